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

  function list(all) {
    var details = element("details", "revisions__choose");
    details.appendChild(element("summary", "", "Choose a revision"));
    var entries = element("ul");
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
      entries.appendChild(entry);
    });
    details.appendChild(entries);
    /* Escape closes the list and leaves the keyboard where it was opened. */
    details.addEventListener("keydown", function (event) {
      if (event.key === "Escape" && details.open) {
        details.open = false;
        details.querySelector("summary").focus();
      }
    });
    document.addEventListener("click", function (event) {
      if (!details.contains(event.target)) details.open = false;
    });
    return details;
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
    bar.querySelector(".revisions__inner").insertBefore(list(all), bar.querySelector(".revisions__all"));
    if (latest.name !== here) {
      bar.classList.add("revisions--old");
      bar.insertBefore(superseded(latest, all), bar.firstChild);
    }
  };

  var script = document.createElement("script");
  script.src = root + "/../versions.js";
  document.head.appendChild(script);
})();
