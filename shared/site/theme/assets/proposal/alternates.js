/* Alternates that are ticked, and what they come to together. Every combination was computed before: nothing
   is added up here, since two alternates together are not the sum of both. What is ticked stands in the
   address, so that a choice can be sent, and can be printed with lines to sign. */
(function () {
  "use strict";

  var NAME = "choose=";

  function each(list, act) { Array.prototype.forEach.call(list, act); }

  /* The keys that the address names; null where it names no choice. */
  function named() {
    var part = location.hash.slice(1).split("&").filter(function (one) { return one.indexOf(NAME) === 0; })[0];
    if (part === undefined) return null;
    return part.slice(NAME.length).split("+").map(function (key) {
      try { return decodeURIComponent(key); } catch (error) { return ""; }
    });
  }

  each(document.querySelectorAll("form.choose[data-combinations]"), function (form) {
    var combinations = JSON.parse(form.getAttribute("data-combinations"));
    var boxes = Array.prototype.slice.call(form.querySelectorAll("input[type=checkbox]"));
    var parts = form.querySelectorAll("[data-part]");
    var list = form.querySelector(".sign__chosen");
    var address = form.querySelector(".sign__address");
    var payments = form.querySelectorAll(".chosen-payments");
    var furnished = form.querySelector(".sign__furnished");
    var print = form.querySelector(".print-choice");

    function chosen() { return boxes.filter(function (box) { return box.checked; }); }

    function listed(where, names) {
      where.textContent = "";
      names.forEach(function (name) {
        var item = document.createElement("li");
        item.textContent = name;
        where.appendChild(item);
      });
    }

    function pay(table, rows) {
      var body = table.tBodies[0];
      body.textContent = "";
      table.hidden = !rows.length;
      rows.forEach(function (cells) {
        var row = body.insertRow();
        cells.forEach(function (words, n) {
          var cell = document.createElement(n ? "td" : "th");
          if (!n) cell.scope = "row";
          cell.textContent = words;
          row.appendChild(cell);
        });
      });
    }

    function show() {
      var keys = chosen().map(function (box) { return box.value; }).sort();
      var told = combinations[keys.join(" ")] || {};
      each(parts, function (part) {
        var words = told[part.getAttribute("data-part")];
        part.hidden = words === undefined;
        part.querySelector("dd").textContent = words === undefined ? "" : words;
      });
      var names = chosen().map(function (box) { return box.parentNode.textContent.trim(); });
      listed(list, names.length ? names : [list.getAttribute("data-none")]);
      each(payments, function (table) { pay(table, told.payments || []); });
      if (furnished) {
        var more = chosen().map(function (box) { return box.getAttribute("data-furnished"); }).filter(Boolean);
        listed(furnished, more);
        furnished.hidden = !more.length;
      }
      /* A file on somebody's own disk is no address that the other side could open. */
      address.textContent = /^https?:/.test(location.protocol) ? location.href : "";
      // What cannot be ordered is not signed.
      print.disabled = told.not !== undefined;
    }

    function write() {
      var keys = chosen().map(function (box) { return encodeURIComponent(box.value); });
      history.replaceState(null, "", "#" + NAME + keys.join("+"));
    }

    function read() {
      var keys = named();
      if (keys !== null) boxes.forEach(function (box) { box.checked = keys.indexOf(box.value) >= 0; });
      show();
    }

    form.addEventListener("submit", function (event) { event.preventDefault(); });
    form.addEventListener("change", function () { write(); show(); });
    print.addEventListener("click", function () {
      document.documentElement.classList.add("signing");
      window.print();
    });
    window.addEventListener("afterprint", function () { document.documentElement.classList.remove("signing"); });
    window.addEventListener("hashchange", read);
    form.hidden = false;
    read();
  });
})();
