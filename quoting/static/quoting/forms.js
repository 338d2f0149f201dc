/* Forms that are posted: what is typed is never lost, and what is unsaved is known to be.

   data-unsaved            set here on a form somebody typed in; leaving the page then asks
   data-after-save="id"    what waits until the form of that id is saved; its [data-save-first] says so
   data-kind="not-saved"   marks a page whose form came back: it is unsaved from the start
   .follow                 stays in sight beside a long form; taller than the window it first shows its end */
"use strict";
(() => {
  const unsaved = (form) => form?.dataset.unsaved === "yes";
  const asks = (form) => form && form.method === "post" && !form.dataset.keep;

  function holdNext() {
    for (const one of document.querySelectorAll("[data-after-save]")) {
      const waits = unsaved(document.getElementById(one.dataset.afterSave));
      for (const button of one.querySelectorAll("button:not([data-always-off])")) button.disabled = waits;
      for (const link of one.querySelectorAll("a")) link.toggleAttribute("data-off", waits);
      for (const words of one.querySelectorAll("[data-save-first]")) words.hidden = !waits;
    }
  }

  function typedIn(form) {
    if (!asks(form)) return;
    form.dataset.unsaved = "yes";
    holdNext();
  }

  /* What was said of a field is no longer true once it is typed in. */
  function forgive(field) {
    const id = /^(radio|checkbox)$/.test(field.type) ? field.id.replace(/_\d+$/, "") : field.id;
    document.getElementById(`${id}_error`)?.replaceChildren();
    field.removeAttribute("aria-invalid");
    for (const summary of document.querySelectorAll(".not-saved")) {
      const links = [...summary.querySelectorAll("li a")], about = links.filter((one) => one.hash.slice(1) === id);
      if (!about.length) continue;
      for (const one of about) one.closest("li").remove();
      const left = new Set(links.filter((one) => !about.includes(one)).map((one) => one.hash)).size;
      const heading = summary.querySelector("h2"), lead = summary.dataset.lead;
      if (left) heading.textContent = `${lead}: ${left} field${left === 1 ? "" : "s"}`;
      else if (summary.querySelector("li")) heading.textContent = lead;
      else {
        heading.textContent = "Not saved yet";
        summary.querySelector("ul").outerHTML = "<p>Nothing is wrong any more: save now.</p>";
      }
    }
  }

  const within = (place) => { for (let one = place; one; one = one.parentElement) if (one.tagName === "DETAILS") one.open = true; };

  function openLines() {
    for (const wrong of document.querySelectorAll("main details:not([open]) .error:not(:empty)")) within(wrong);
  }

  document.addEventListener("input", ({ target }) => { if (asks(target.form)) { typedIn(target.form); forgive(target); } });
  document.addEventListener("change", ({ target }) => { if (asks(target.form)) { typedIn(target.form); forgive(target); } });
  document.addEventListener("rows-changed", ({ target }) => typedIn(target));
  document.addEventListener("click", (event) => {
    if (event.target.closest("a[data-off]")) return event.preventDefault();
    const link = event.target.closest(".not-saved a[href^='#']"), field = link && document.getElementById(link.hash.slice(1));
    if (!field) return;
    event.preventDefault();
    within(field);
    (field.matches("input, select, textarea") ? field : field.querySelector("input:not([type=hidden]), select, textarea") || field).focus();
  });
  addEventListener("submit", (event) => { if (!event.defaultPrevented) delete event.target.dataset.unsaved; });
  addEventListener("beforeunload", (event) => { if ([...document.forms].some(unsaved)) event.preventDefault(); });

  /* A part brought anew holds what was typed when it was asked for; what was typed since goes back into it. */
  const shown = () => new Map([...document.querySelectorAll("main :is(input, select, textarea)[id]:not([type=hidden], [type=file])")]
    .map((one) => [one.id, one.type === "checkbox" || one.type === "radio" ? one.checked : one.value]));
  const atSending = new WeakMap();
  let kept = null;
  document.addEventListener("htmx:beforeRequest", ({ detail }) => atSending.set(detail.xhr, shown()));
  document.addEventListener("htmx:beforeSwap", ({ detail }) => {
    const before = atSending.get(detail.xhr) || new Map();
    kept = {
      typed: [...shown()].filter(([id, value]) => before.has(id) && before.get(id) !== value),
      open: [...document.querySelectorAll("main details[id][open]")].map((one) => one.id),
      forms: [...document.forms].filter((one) => one.id && unsaved(one)).map((one) => one.id),
    };
  });
  document.addEventListener("htmx:afterSwap", () => {
    for (const [id, value] of kept?.typed || []) {
      const field = document.getElementById(id);
      if (field) field[typeof value === "boolean" ? "checked" : "value"] = value;
    }
    for (const id of kept?.open || []) document.getElementById(id)?.setAttribute("open", "");
    for (const id of kept?.forms || []) typedIn(document.getElementById(id));
    kept = null;
    openLines();
    holdNext();
    follow();
  });

  // On the root: what is beside may be brought anew, and a style of its own would be taken over with it.
  const heights = new ResizeObserver((all) => { for (const { target } of all) document.documentElement.style.setProperty("--tall", `${target.offsetHeight}px`); });
  const follow = () => { for (const one of document.querySelectorAll(".follow")) heights.observe(one); };

  for (const one of document.querySelectorAll(".not-saved li a, [data-kind=not-saved]")) {
    typedIn(one.hash ? document.getElementById(one.hash.slice(1))?.form : document.querySelector("main form[method=post]"));
  }
  openLines();
  follow();
})();
