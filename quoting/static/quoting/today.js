/* An open Today looks for changes twice a second while it is in sight; see today_changes. */
"use strict";
(() => {
  const LOOK_EVERY_MS = 500;
  const look = () => {
    const desk = document.getElementById("desk");
    if (desk && !document.hidden && !desk.contains(document.activeElement?.closest("form"))) htmx.trigger(desk, "look");
  };
  setInterval(look, LOOK_EVERY_MS);
  document.addEventListener("visibilitychange", look);
})();
