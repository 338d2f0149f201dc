/* "/" goes to the find box; Escape, or a click elsewhere, closes the list under the name. */
"use strict";
(() => {
  const typing = (place) => place.isContentEditable || /^(INPUT|SELECT|TEXTAREA)$/.test(place.tagName);
  const list = () => document.querySelector(".who[open]");

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && list()) {
      const summary = list().querySelector("summary");
      list().open = false;
      summary.focus();
    }
    if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || typing(event.target)) return;
    const box = document.getElementById("find");
    if (!box || !box.offsetParent) return;
    event.preventDefault();
    box.focus();
    box.select();
  });
  document.addEventListener("click", (event) => {
    if (list() && !list().contains(event.target)) list().open = false;
  });
})();
