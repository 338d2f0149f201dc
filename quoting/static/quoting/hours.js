/* Hours: a quarter more or less by a tap, and of the work that is chosen what is planned, spent and left. */
"use strict";
(() => {
  const minutesOf = (text) => {
    const found = /^\s*(\d{0,2})(?:[.,](\d+)|:(\d{1,2}))?\s*h?\s*$/.exec(text);
    return found ? Math.round(Number(found[1] || 0) * 60 + (found[2] ? Number(`0.${found[2]}`) * 60 : Number(found[3] || 0))) : 0;
  };
  const written = (minutes) => minutes % 15 ? `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}` : String(minutes / 60);

  const says = (select) => {
    const line = select.parentElement.querySelector("[data-standing]");
    if (line) line.textContent = select.selectedOptions[0]?.dataset.says || "";
  };

  /* What is shown follows what stands in the fields, be it kept from before: a line with somebody ticked is open. */
  function settle() {
    for (const one of document.querySelectorAll("[data-quarters][hidden]")) one.hidden = false;
    for (const one of document.querySelectorAll(".hours-line select[name$='-where']")) says(one);
    for (const one of document.querySelectorAll("details > .hours-line")) if (one.querySelector(".ticks input:checked")) one.parentElement.open = true;
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest("[data-quarters]");
    if (!button) return;
    const field = button.parentElement.querySelector("input"), now = minutesOf(field.value), by = 15 * Number(button.dataset.quarters);
    // Off the quarter, the next quarter that way; a day has 24 hours.
    const to = now % 15 ? (by > 0 ? Math.ceil(now / 15) : Math.floor(now / 15)) * 15 : now + by;
    field.value = written(Math.min(1440, Math.max(0, to)));
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
  document.addEventListener("change", ({ target }) => { if (target.matches(".hours-line select[name$='-where']")) says(target); });
  // What was sent comes back as another main.
  new MutationObserver(settle).observe(document.body, { childList: true });
  settle();
})();
