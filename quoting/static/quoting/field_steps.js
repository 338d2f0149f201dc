/* The field check a step an asked dimension; without this script the whole form stands there. */
"use strict";
(() => {
  function stepped() {
    const form = document.querySelector("form[data-steps]");
    if (!form || form.dataset.stepped) return;
    const steps = [...form.querySelectorAll(".check-step")], bar = form.querySelector(".step-bar");
    if (!steps.length || !bar) return;
    form.dataset.stepped = "yes";
    const [back, next] = bar.querySelectorAll("button"), said = bar.querySelector("span"), last = form.querySelector(".check-last");
    const wrong = steps.findIndex((one) => one.querySelector('[aria-invalid="true"]'));
    let at = document.querySelector(".moves") && wrong < 0 ? steps.length : Math.max(wrong, 0);
    bar.hidden = false;
    function show(to, moves) {
      at = Math.max(0, Math.min(steps.length, to));
      steps.forEach((one, place) => { one.hidden = place !== at; });
      last.hidden = at !== steps.length;
      back.disabled = at === 0;
      next.hidden = at === steps.length;
      said.textContent = at < steps.length ? `${at + 1} of ${steps.length}` : "All read";
      if (moves && at < steps.length) steps[at].querySelector("input").focus();
    }
    back.addEventListener("click", () => show(at - 1, true));
    next.addEventListener("click", () => show(at + 1, true));
    form.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || !event.target.matches(".check-step input")) return;
      event.preventDefault();
      show(at + 1, true);
    });
    show(at, false);
  }
  // What was sent comes back as another main.
  new MutationObserver(stepped).observe(document.body, { childList: true });
  stepped();
})();
