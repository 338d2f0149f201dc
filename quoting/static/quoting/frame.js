/* "/" goes to the find box; Escape, or a click elsewhere, closes the list under the name; what has the focus is brought
   out from under the masthead and the foot. */
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
  const edge = (name, side) => document.querySelector(name)?.getBoundingClientRect()[side];
  const covered = (one) => {
    const box = one.getBoundingClientRect(), top = edge(".masthead", "bottom") ?? 0, end = edge(".foot", "top") ?? innerHeight;
    return box.height < end - top && (box.top < top || box.bottom > end);
  };
  // A column that stays beside a long page moves along with it: where it stands by itself is found without that.
  const bringOut = (one) => {
    if (!covered(one)) return;
    one.scrollIntoView({ block: "nearest" });
    const beside = one.closest(".follow");
    if (!beside || !covered(one)) return;
    beside.style.position = "static";
    const place = one.getBoundingClientRect().top + scrollY;
    beside.style.position = "";
    scrollTo(0, place - (edge(".masthead", "bottom") ?? 0) - 40);
  };
  document.addEventListener("focusin", ({ target }) => {
    if (!target.closest(".masthead, .foot, .skip-link")) requestAnimationFrame(() => bringOut(target));
  });
  document.addEventListener("click", (event) => {
    if (list() && !list().contains(event.target)) list().open = false;
  });
})();
