/* Tables that sort, filter and show the columns of a job, and the last things a keyboard or a screen reader misses. */
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
    each("details.fold:not([open])", function (fold) { fold.open = true; fold.dataset.folded = ""; });
    each("table.data th > button.sort", function (button) {
      var words = document.createElement("span");
      words.className = "sort";
      while (button.firstChild) words.appendChild(button.firstChild);
      button.hidden = true;
      button.parentNode.insertBefore(words, button);
    });
  });
  window.addEventListener("afterprint", function () {
    each("details.fold[data-folded]", function (fold) { fold.open = false; delete fold.dataset.folded; });
    each("table.data th > span.sort", function (words) {
      var button = words.nextSibling;
      while (words.firstChild) button.appendChild(words.firstChild);
      button.hidden = false;
      words.parentNode.removeChild(words);
    });
  });

  /* The rows that sort: those after the totals, where these stand first. */
  function bodyOf(table) {
    return table.tBodies[table.tBodies.length - 1];
  }

  /* What acts on a table stands above it. */
  function toolsOf(region) {
    var tools = region.previousElementSibling;
    if (tools && tools.className === "table-tools") return tools;
    tools = document.createElement("div");
    tools.className = "table-tools";
    region.parentNode.insertBefore(tools, region);
    return tools;
  }

  function makeFilterable(table, region) {
    var rows = Array.prototype.slice.call(bodyOf(table).rows);
    var contents = rows.map(function (row) { return row.textContent.toLowerCase(); });
    var tools = toolsOf(region);
    var label = document.createElement("label");
    var input = document.createElement("input");
    var count = document.createElement("span");
    label.textContent = "Show rows with ";
    input.type = "search";
    input.autocomplete = "off";
    count.setAttribute("role", "status");
    count.textContent = rows.length + " rows";
    label.appendChild(input);
    tools.appendChild(label);
    tools.appendChild(count);
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

  /* Views of a wide table by the job it is for. A choice holds for all tables of the page that offer it, and
     stands in the address. Whoever comes from a search sees every column, since the word may lie in any. */
  var choosers = [];
  function makeViews(table, region) {
    var heads = Array.prototype.slice.call(table.tHead.rows[table.tHead.rows.length - 1].cells);
    var group = document.createElement("div");
    var words = document.createElement("span");
    var buttons = {};
    group.className = "views";
    group.setAttribute("role", "group");
    group.setAttribute("aria-label", "Columns for");
    words.textContent = "Columns for";
    words.setAttribute("aria-hidden", "true");
    group.appendChild(words);
    function show(view) {
      var chosen = buttons[view] ? view : "all";
      var hidden = heads.map(function (head) {
        return chosen !== "all" && head.dataset.views !== undefined &&
          head.dataset.views.split(" ").indexOf(chosen) < 0;
      });
      Array.prototype.forEach.call(table.rows, function (row) {
        Array.prototype.forEach.call(row.cells, function (cell, place) { cell.hidden = hidden[place]; });
      });
      Object.keys(buttons).forEach(function (name) {
        buttons[name].setAttribute("aria-pressed", String(name === chosen));
      });
    }
    table.dataset.views.split("|").concat("all Everything").forEach(function (one) {
      var name = one.slice(0, one.indexOf(" "));
      var button = document.createElement("button");
      button.type = "button";
      button.textContent = one.slice(one.indexOf(" ") + 1);
      button.addEventListener("click", function () { choose(name); });
      buttons[name] = button;
      group.appendChild(button);
    });
    toolsOf(region).appendChild(group);
    choosers.push({ show: show, has: buttons, opens: table.dataset.opens || "all" });
  }
  function choose(view) {
    choosers.forEach(function (one) { if (one.has[view]) one.show(view); });
    try {
      var address = new URL(location.href);
      address.searchParams.set("view", view);
      history.replaceState(history.state, "", address);
    } catch (error) {
      /* The address stays as it is. */
    }
  }
  function showViews() {
    var asked = new URLSearchParams(location.search);
    choosers.forEach(function (one) {
      var view = asked.has("h") ? "all" : asked.get("view");
      one.show(one.has[view] ? view : one.opens);
    });
  }

  Array.prototype.forEach.call(document.querySelectorAll(".table-scroll > table.data"), function (table) {
    if (!table.tHead || !table.tBodies.length) return;
    var rows = bodyOf(table).rows.length;
    if (table.dataset.views) makeViews(table, table.parentNode);
    if (rows >= ROWS_TO_SORT) makeSortable(table);
    if (rows >= ROWS_TO_FILTER) makeFilterable(table, table.parentNode);
  });
  showViews();

  /* On a telephone a table that is wider than the window is a list of cards, each value under its heading. */
  var MOST_CARDS = 60, MOST_CELLS = 1000;
  var narrow = window.matchMedia("screen and (max-width: 47.984375em)");
  function headCells(table) {
    Array.prototype.forEach.call(table.tHead.rows, function (row) {
      Array.prototype.forEach.call(row.cells, function (head, place) {
        var words = head.textContent.trim();
        Array.prototype.forEach.call(table.tBodies, function (body) {
          Array.prototype.forEach.call(body.rows, function (one) {
            if (one.cells[place]) one.cells[place].dataset.head = words;
          });
        });
        if (table.tFoot) {
          Array.prototype.forEach.call(table.tFoot.rows, function (one) {
            if (one.cells[place]) one.cells[place].dataset.head = words;
          });
        }
      });
    });
  }
  function showCards() {
    each(".table-scroll > table.data", function (table) {
      table.classList.remove("cards");
      if (!narrow.matches || !table.tHead || !table.tBodies.length) return;
      var rows = bodyOf(table).rows.length;
      if (rows > MOST_CARDS && rows * table.tHead.rows[0].cells.length > MOST_CELLS) return;
      if (table.scrollWidth <= table.parentNode.clientWidth + 1) return;
      if (!table.dataset.headed) headCells(table);
      table.dataset.headed = "";
      table.classList.add("cards");
    });
  }
  showCards();
  narrow.addEventListener("change", showCards);

  /* A page of wide schedules has no table of contents beside it: its parts are named in a line on top. */
  (function () {
    var beside = document.querySelector(".md-sidebar--secondary");
    var title = document.querySelector("article h1");
    var parts = document.querySelectorAll("article h2[id]");
    if (!beside || !beside.hidden || !title || parts.length < 3) return;
    var line = document.createElement("nav");
    line.className = "on-page";
    line.setAttribute("aria-label", "On this page");
    Array.prototype.forEach.call(parts, function (part) {
      var link = document.createElement("a");
      link.href = "#" + part.id;
      link.textContent = part.firstChild ? part.firstChild.textContent : part.id;
      line.appendChild(link);
    });
    title.parentNode.insertBefore(line, title.nextSibling);
  })();

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
