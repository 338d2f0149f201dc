// Says once that the client's page was opened and seen. Nothing is sent with it.
"use strict";
(() => {
  const address = document.querySelector("main[data-opened]")?.dataset.opened;
  const say = () => fetch(address, { method: "POST", credentials: "same-origin", keepalive: true }).catch(() => {});
  const once = () => {
    if (document.visibilityState !== "visible") return;
    document.removeEventListener("visibilitychange", once);
    say();
  };
  if (!address) return;
  document.addEventListener("visibilitychange", once);
  once();
})();
