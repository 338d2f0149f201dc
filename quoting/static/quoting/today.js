/* An open Today looks for changes every two seconds while it is in sight; see today_changes. */
"use strict";
(() => {
  const LOOK_EVERY_MS = 2000;
  const look = () => {
    const desk = document.getElementById("desk");
    if (desk && !document.hidden && !desk.contains(document.activeElement?.closest("form"))) htmx.trigger(desk, "look");
  };
  setInterval(look, LOOK_EVERY_MS);
  document.addEventListener("visibilitychange", look);
})();
