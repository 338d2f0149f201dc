/* What of the total stands on no line yet, as it is typed. The service counts it again.
   data-money="total|tax|freight|line"; a line under [data-tick] counts while it is ticked. [data-tick-all] ticks them. */
"use strict";
(() => {
  const form = document.getElementById("bill"), line = document.querySelector("[data-left-line]");
  if (!form || !line) return;
  const left = line.querySelector("[data-left]");

  /* 1,250.50 and 1.250,50 both: the last mark before one or two digits is the decimal one. */
  function cents(typed) {
    const text = typed.replace(/[^\d.,-]/g, ""), found = /^(-?[\d.,]*?)(?:[.,](\d{1,2}))?$/.exec(text);
    if (!text || !found) return 0;
    return Number(found[1].replace(/[.,]/g, "") || 0) * 100 + Number((found[2] || "").padEnd(2, "0"));
  }
  const counts = (field) => {
    const tick = field.closest(".offer")?.querySelector("[data-tick]");
    return !tick || tick.checked;
  };
  function show() {
    let sum = 0;
    for (const field of form.querySelectorAll("[data-money]")) if (counts(field)) sum += (field.dataset.money === "total" ? 1 : -1) * cents(field.value);
    left.value = (sum / 100).toFixed(2);
    line.classList.toggle("open", sum !== 0);
    line.hidden = !form.querySelector('[data-money="total"]').value.trim();
    form.querySelectorAll("[data-tick-all]").forEach((one) => { one.hidden = false; });
  }
  document.addEventListener("click", (event) => {
    const all = event.target.closest("[data-tick-all]");
    if (!all) return;
    all.closest("fieldset").querySelectorAll("[data-tick]").forEach((one) => { one.checked = true; });
    form.dispatchEvent(new Event("input", { bubbles: true }));
    show();
  });
  form.addEventListener("input", show);
  form.addEventListener("change", show);
  form.addEventListener("rows-changed", show);
  document.addEventListener("htmx:afterSwap", show);
  show();
})();
