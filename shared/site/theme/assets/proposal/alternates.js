/* Alternates that are ticked, and what they come to together. Every combination was computed before: nothing
   is added up here, since two alternates together are not the sum of both. */
(function () {
  "use strict";

  Array.prototype.forEach.call(document.querySelectorAll("form.choose[data-combinations]"), function (form) {
    var combinations = JSON.parse(form.getAttribute("data-combinations"));
    var boxes = Array.prototype.slice.call(form.querySelectorAll("input[type=checkbox]"));
    var parts = Array.prototype.slice.call(form.querySelectorAll("[data-part]"));

    function show() {
      var chosen = boxes.filter(function (box) { return box.checked; });
      var key = chosen.map(function (box) { return box.value; }).sort().join(" ");
      var told = combinations[key] || {};
      parts.forEach(function (part) {
        var words = told[part.getAttribute("data-part")];
        part.hidden = words === undefined;
        part.querySelector("dd").textContent = words === undefined ? "" : words;
      });
    }

    form.addEventListener("submit", function (event) { event.preventDefault(); });
    form.addEventListener("change", show);
    form.hidden = false;
    show();
  });
})();
