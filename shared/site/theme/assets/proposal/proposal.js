/* Tables that sort and filter, and the last things a keyboard or a screen reader misses. */
(function () {
  "use strict";

  var ROWS_TO_SORT = 3;
  var ROWS_TO_FILTER = 12;
  var collator = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

  function figure(text) {
    var value = parseFloat(text.replace(/[\s\u00a0\u202f']/g, "").replace("\u2212", "-"));
    return isNaN(value) ? -Infinity : value;
  }

  /* The library reverses what it sorted, so both compare the second with the first. */
  Tablesort.extend("number", function () { return false; }, function (a, b) {
    var left = figure(a), right = figure(b);
    return left === right ? 0 : right > left ? 1 : -1;
  });
  Tablesort.extend("natural", function () { return true; }, function (a, b) {
    return collator.compare(b.trim(), a.trim());
  });

  function makeSortable(table) {
    var heads = table.tHead.rows[table.tHead.rows.length - 1].cells;
    new Tablesort(table);
    Array.prototype.forEach.call(heads, function (head) {
      /* A button says to everybody what a heading that can be chosen does. */
      var button = document.createElement("button");
      button.type = "button";
      button.className = "sort";
      button.title = "Sort by this column";
      while (head.firstChild) button.appendChild(head.firstChild);
      head.appendChild(button);
      head.removeAttribute("tabindex");
      head.removeAttribute("role");
      button.addEventListener("keydown", function (event) {
        if (event.key === "Enter") event.stopPropagation(); /* its own click follows */
      });
    });
  }

  /* On paper a heading that is a button is blank on every page after the first: there it is words alone. */
  function each(selector, act) {
    Array.prototype.forEach.call(document.querySelectorAll(selector), act);
  }
  window.addEventListener("beforeprint", function () {
    each("table.data th > button.sort", function (button) {
      var words = document.createElement("span");
      words.className = "sort";
      while (button.firstChild) words.appendChild(button.firstChild);
      button.hidden = true;
      button.parentNode.insertBefore(words, button);
    });
  });
  window.addEventListener("afterprint", function () {
    each("table.data th > span.sort", function (words) {
      var button = words.nextSibling;
      while (words.firstChild) button.appendChild(words.firstChild);
      button.hidden = false;
      words.parentNode.removeChild(words);
    });
  });

  function makeFilterable(table, region) {
    var rows = Array.prototype.slice.call(table.tBodies[0].rows);
    var contents = rows.map(function (row) { return row.textContent.toLowerCase(); });
    var tools = document.createElement("div");
    var label = document.createElement("label");
    var input = document.createElement("input");
    var count = document.createElement("span");
    tools.className = "table-tools";
    label.textContent = "Show rows with ";
    input.type = "search";
    input.autocomplete = "off";
    count.setAttribute("role", "status");
    count.textContent = rows.length + " rows";
    label.appendChild(input);
    tools.appendChild(label);
    tools.appendChild(count);
    region.parentNode.insertBefore(tools, region);
    input.addEventListener("input", function () {
      var words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
      var shown = 0;
      rows.forEach(function (row, index) {
        var fits = words.every(function (word) { return contents[index].indexOf(word) >= 0; });
        row.hidden = !fits;
        if (fits) shown += 1;
      });
      count.textContent = words.length ? shown + " of " + rows.length + " rows" : rows.length + " rows";
    });
  }

  Array.prototype.forEach.call(document.querySelectorAll(".table-scroll > table.data"), function (table) {
    if (!table.tHead || !table.tBodies.length) return;
    var rows = table.tBodies[0].rows.length;
    if (rows >= ROWS_TO_SORT) makeSortable(table);
    if (rows >= ROWS_TO_FILTER) makeFilterable(table, table.parentNode);
  });

  /* What the address names on this page; nothing where it cannot be read. */
  function named() {
    try {
      return document.getElementById(decodeURIComponent(location.hash.slice(1)));
    } catch (error) {
      return null;
    }
  }

  /* A row that a link names may be filtered away or lie in a region that scrolls by itself. */
  function showTarget() {
    var row = named();
    if (row && row.tagName === "TR") row.scrollIntoView({ block: "center" });
  }
  window.addEventListener("hashchange", showTarget);
  if (location.hash) window.addEventListener("load", showTarget);

  /* The word that was searched for may lie deep in a schedule, here and in the list of what was found. */
  function rarest(words) {
    var counts = {};
    words.forEach(function (word) {
      var key = word.textContent.toLowerCase();
      counts[key] = (counts[key] || 0) + 1;
    });
    return words.reduce(function (best, word) {
      var key = word.textContent.toLowerCase();
      return !best || counts[key] < counts[best.textContent.toLowerCase()] ? word : best;
    }, null);
  }
  function showWords() {
    Array.prototype.forEach.call(document.querySelectorAll(".md-search-result__article"), function (found) {
      var marks = found.querySelectorAll(":scope > :not(h1):not(h2) mark, :scope > mark");
      var word = rarest(Array.prototype.slice.call(marks));
      if (word) found.scrollTop = word.offsetTop - found.clientHeight / 2;
    });
  }
  var results = document.querySelector(".md-search-result__list");
  if (results) new MutationObserver(showWords).observe(results, { childList: true, subtree: true });
  if (/[?&]h=[^&]/.test(location.search)) {
    window.addEventListener("load", function () {
      var tries = 0;
      var timer = setInterval(function () {
        var section = named();
        var words = Array.prototype.slice.call(document.querySelectorAll("article mark[data-md-highlight]"));
        var word = rarest(words.filter(function (mark) {
          return !section || section.compareDocumentPosition(mark) & Node.DOCUMENT_POSITION_FOLLOWING;
        }));
        if (word) word.scrollIntoView({ block: "center" });
        if (word || (tries += 1) > 20) clearInterval(timer);
      }, 100);
    });
  }

  /* The theme wraps tables of plain Markdown in regions that a keyboard cannot reach. */
  function reachable() {
    Array.prototype.forEach.call(document.querySelectorAll(".md-typeset__scrollwrap"), function (region) {
      region.tabIndex = 0;
      region.setAttribute("role", "region");
      region.setAttribute("aria-label", "Table");
    });
  }
  reachable();
  new MutationObserver(reachable).observe(document.querySelector(".md-content") || document.body, {
    childList: true, subtree: true,
  });
})();
