/* Revisions side by side. `versions.js` lies beside the folders of the revisions, outside every one of them,
   and calls proposalRevisions: so that a page that was issued long ago knows of those issued since, from disk
   and from a server alike. Without it, or without scripts, the page keeps its plain link to all revisions. */
(function () {
  "use strict";

  var bar = document.querySelector("nav.revisions");
  if (!bar) return;
  var root = bar.dataset.root.replace(/\/$/, "");
  var page = bar.dataset.page;
  var here = bar.dataset.revision;

  function element(name, className, text) {
    var made = document.createElement(name);
    if (className) made.className = className;
    if (text) made.textContent = text;
    return made;
  }

  function path(name) {
    return name.split("/").map(encodeURIComponent).join("/");
  }

  /* The same page where the revision has it, else its cover. */
  function target(all, revision) {
    var number = all.pages.indexOf(page);
    var there = number >= 0 && revision.without.indexOf(number) < 0;
    return { same: there, href: root + "/../" + path(revision.name) + "/" + (there ? page : "index.html") };
  }

  function follow(event) {
    /* What stood in the address after the page's name is kept: the row that was being read. */
    var link = event.currentTarget;
    link.hash = link.dataset.same === "yes" ? location.hash : "";
  }

  function linkTo(all, revision, text) {
    var found = target(all, revision);
    var link = element("a", "", text);
    link.href = found.href;
    link.dataset.same = found.same ? "yes" : "no";
    link.addEventListener("click", follow);
    return link;
  }

  function described(revision) {
    return "Revision " + revision.name + ", " + revision.date + (revision.purpose ? ", " + revision.purpose : "");
  }

  function entries(all) {
    var made = element("ul", "revisions__list");
    made.id = "revisions-list";
    made.hidden = true;
    all.revisions.forEach(function (revision, place) {
      var entry = element("li");
      var latest = place === 0 ? " (latest)" : "";
      if (revision.name === here) {
        var current = element("span", "", described(revision) + latest + " — shown here");
        current.setAttribute("aria-current", "true");
        entry.appendChild(current);
      } else {
        var cover = target(all, revision).same ? "" : " — its cover: this page is not in it";
        entry.appendChild(linkTo(all, revision, described(revision) + latest + cover));
      }
      made.appendChild(entry);
    });
    return made;
  }

  /* A button that opens the list below it; Escape closes it and leaves the keyboard at the button. */
  function opener(list) {
    var button = element("button", "revisions__choose", "Choose a revision");
    button.type = "button";
    button.setAttribute("aria-controls", list.id);
    function show(open) {
      list.hidden = !open;
      button.setAttribute("aria-expanded", open ? "true" : "false");
    }
    button.addEventListener("click", function () { show(list.hidden); });
    bar.addEventListener("keydown", function (event) {
      if (event.key === "Escape" && !list.hidden) {
        show(false);
        button.focus();
      }
    });
    show(false);
    return button;
  }

  function superseded(latest, all) {
    var banner = element("p", "revisions__superseded");
    banner.appendChild(element("strong", "", "Superseded."));
    banner.appendChild(document.createTextNode(
      " Revision " + latest.name + " of " + latest.date + " has taken the place of this one. "));
    banner.appendChild(linkTo(all, latest,
      target(all, latest).same ? "Show this page in revision " + latest.name
                               : "Show the cover of revision " + latest.name));
    return banner;
  }

  window.proposalRevisions = function (all) {
    var latest = all.revisions[0];
    if (!latest) return;
    var inner = bar.querySelector(".revisions__inner");
    var list = entries(all);
    inner.insertBefore(opener(list), bar.querySelector(".revisions__all"));
    inner.insertBefore(list, bar.querySelector(".revisions__all"));
    if (latest.name !== here) {
      bar.classList.add("revisions--old");
      bar.insertBefore(superseded(latest, all), bar.firstChild);
    }
  };

  var script = document.createElement("script");
  script.src = root + "/../versions.js";
  document.head.appendChild(script);
})();
