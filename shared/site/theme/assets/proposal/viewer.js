/* A drawing over the whole window: zoomed and moved by keyboard, mouse and touch. Without it the link to the file stays. */
(function () {
  "use strict";

  var MOST = 16, STEP = 1.5;
  if (!window.HTMLDialogElement) return;

  function made(name, className, text) {
    var element = document.createElement(name);
    if (className) element.className = className;
    if (text) element.textContent = text;
    return element;
  }

  var dialog = made("dialog", "viewer"), bar = made("div", "viewer__bar"), title = made("p", "viewer__title");
  var size = made("output", "viewer__size"), pane = made("div", "viewer__pane"), image = made("img");
  var fit = 1, times = 1;

  function button(label, name, act) {
    var one = made("button", "", label);
    one.type = "button";
    one.setAttribute("aria-label", name);
    one.addEventListener("click", act);
    bar.appendChild(one);
  }

  /* Width of the picture at which the whole of it is seen. */
  function fitted() {
    var wide = image.naturalWidth || 1, high = image.naturalHeight || 1;
    return Math.min(pane.clientWidth, pane.clientHeight * wide / high);
  }

  /* Zoom to so many times the whole sheet; what lies under a point of the pane stays under it. */
  function zoom(to, x, y) {
    var before = fit * times;
    times = Math.min(MOST, Math.max(1, to));
    fit = fitted();
    image.style.width = fit * times + "px";
    var more = fit * times / before;
    pane.scrollLeft = (pane.scrollLeft + x) * more - x;
    pane.scrollTop = (pane.scrollTop + y) * more - y;
    size.value = Math.round(times * 100) + "\u00a0%";
  }
  function zoomMiddle(to) { zoom(to, pane.clientWidth / 2, pane.clientHeight / 2); }
  function larger() { zoomMiddle(times * STEP); }
  function smaller() { zoomMiddle(times / STEP); }
  function whole() { zoomMiddle(1); }

  dialog.setAttribute("aria-labelledby", "viewer-title");
  title.id = "viewer-title";
  bar.appendChild(title);
  button("\u2212", "Zoom out", smaller);
  size.setAttribute("aria-label", "Size, of the whole sheet");
  bar.appendChild(size);
  button("+", "Zoom in", larger);
  button("Whole sheet", "Show the whole sheet", whole);
  button("Close", "Close the drawing", function () { dialog.close(); });
  pane.tabIndex = 0;
  pane.setAttribute("role", "region");
  pane.setAttribute("aria-label", "Drawing: arrow keys move it, plus and minus zoom, 0 shows the whole sheet");
  pane.appendChild(image);
  dialog.appendChild(bar);
  dialog.appendChild(pane);

  dialog.addEventListener("keydown", function (event) {
    var act = { "+": larger, "=": larger, "-": smaller, "0": whole }[event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    act();
  });
  /* Keys of the page behind it, such as those of the search, do nothing meanwhile. */
  dialog.addEventListener("keyup", function (event) { event.stopPropagation(); });
  function place(event) {
    var box = pane.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }
  pane.addEventListener("wheel", function (event) {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    var at = place(event);
    zoom(times * Math.exp(-event.deltaY / 300), at[0], at[1]);
  }, { passive: false });
  pane.addEventListener("dblclick", function (event) {
    var at = place(event);
    zoom(times > 1 ? 1 : 3, at[0], at[1]);
  });

  /* A mouse drags; one finger scrolls as everywhere; two fingers zoom. */
  var dragged = null, pinched = null;
  pane.addEventListener("pointerdown", function (event) {
    if (event.pointerType !== "mouse" || event.button !== 0) return;
    dragged = [event.clientX, event.clientY, pane.scrollLeft, pane.scrollTop];
    pane.setPointerCapture(event.pointerId);
  });
  pane.addEventListener("pointermove", function (event) {
    if (!dragged) return;
    pane.scrollLeft = dragged[2] - (event.clientX - dragged[0]);
    pane.scrollTop = dragged[3] - (event.clientY - dragged[1]);
  });
  ["pointerup", "pointercancel"].forEach(function (name) {
    pane.addEventListener(name, function () { dragged = null; });
  });
  function apart(touches) {
    return Math.hypot(touches[0].clientX - touches[1].clientX, touches[0].clientY - touches[1].clientY);
  }
  pane.addEventListener("touchstart", function (event) {
    pinched = event.touches.length === 2 ? [apart(event.touches), times] : null;
  }, { passive: true });
  pane.addEventListener("touchmove", function (event) {
    if (!pinched || event.touches.length !== 2) return;
    event.preventDefault();
    var one = place(event.touches[0]), other = place(event.touches[1]);
    zoom(pinched[1] * apart(event.touches) / pinched[0], (one[0] + other[0]) / 2, (one[1] + other[1]) / 2);
  }, { passive: false });
  image.draggable = false;
  window.addEventListener("resize", function () { if (dialog.open) zoomMiddle(times); });

  function open(figure) {
    var shown = figure.querySelector("img");
    image.alt = shown.alt;
    title.textContent = shown.alt;
    image.src = shown.src;
    if (!dialog.isConnected) document.body.appendChild(dialog);
    dialog.showModal();
    times = 1;
    fit = 1;
    (image.decode ? image.decode() : Promise.resolve()).catch(function () {}).then(whole);
    pane.focus();
  }
  Array.prototype.forEach.call(document.querySelectorAll("figure.drawing"), function (figure) {
    var link = figure.querySelector("a.full-size");
    if (!link) return;
    link.addEventListener("click", function (event) {
      if (event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
      event.preventDefault();
      open(figure);
    });
    figure.querySelector("img").addEventListener("click", function () { open(figure); });
  });
})();
