/* Rows of a form are added in the browser: nothing is asked of the service, nothing jumps, nothing typed is lost.
   Without this script the same buttons ask the service, which sends the form with the row.

   <template data-row="NAME">   an empty row; __n__ is its place from 0, __nth__ its number from 1
   <button data-adds="NAME">    adds one, or data-times of them; data-copies on the template: filled as the row before
   data-in="NAME"               a row; [data-do] of its buttons: remove, up, down. Its fields are NAME-3-...
   data-when="ENTRY"            shown while the entry of the same row says a word of data-is, or anything for "*"
   data-groups="ENTRY"          a choice whose <optgroup> is called as what that entry says
   data-numbers="NAME"          a choice among the rows of NAME by their numbers; data-less: all but the last */
"use strict";
(() => {
  const ROW_PARTS = ["id", "name", "for", "value", "aria-describedby", "aria-labelledby"];
  const of = (form, name) => [...form.querySelectorAll(`[data-in="${name}"]`)];
  const fields = (place) => [...place.querySelectorAll("input:not([type=hidden]), select, textarea")];
  const leaf = (field) => field.name.slice(field.name.lastIndexOf("-") + 1);

  function nextPlace(form, name) {
    const begins = `${name}-`;
    const taken = [...form.elements].filter((one) => one.name.startsWith(begins)).map((one) => parseInt(one.name.slice(begins.length), 10));
    return Math.max(-1, ...taken.filter(Number.isInteger)) + 1;
  }

  function add(button) {
    const form = button.form, name = button.dataset.adds, blank = form?.querySelector(`template[data-row="${name}"]`);
    if (!blank) return false;
    let first = null;
    for (let left = Number(button.dataset.times || 1); left > 0; left -= 1) {
      const n = nextPlace(form, name), holder = document.createElement("template");
      if (n >= Number(blank.dataset.most || 200)) break;
      holder.innerHTML = blank.innerHTML.replaceAll("__n__", n).replaceAll("__nth__", n + 1);
      const row = holder.content.firstElementChild, before = of(form, name).at(-1);
      blank.before(row);
      if (before && "copies" in blank.dataset) fields(row).forEach((one) => { const same = fields(before).find((other) => leaf(other) === leaf(one)); if (same) one.value = same.value; });
      globalThis.htmx?.process(row);
      first = first || row;
    }
    if (!first) return true;
    for (let one = first; one && one !== form; one = one.parentElement) if (one.tagName === "DETAILS") one.open = true;
    settle(form);
    form.dispatchEvent(new CustomEvent("rows-changed", { bubbles: true }));
    fields(first).find((one) => one.checkVisibility())?.focus();
    return true;
  }

  function change(button) {
    const row = button.closest("[data-in]"), form = button.form, name = row.dataset.in, all = of(form, name), at = all.indexOf(row);
    const was = all.map((_, place) => place);
    if (button.dataset.do === "remove") { row.remove(); was.splice(at, 1); }
    else {
      const to = at + (button.dataset.do === "up" ? -1 : 1);
      if (to < 0 || to >= all.length) return;
      if (to < at) all[to].before(row); else all[to].after(row);
      [was[at], was[to]] = [was[to], was[at]];
    }
    of(form, name).forEach((one, place) => number(one, name, place));
    renumberChoices(form, name, was);
    settle(form);
    if (all.length === 2) of(form, name).forEach((one) => { if (one.tagName === "DETAILS") one.open = true; });
    button.isConnected ? button.focus() : form.querySelector(`[data-adds="${name}"]`)?.focus();
    form.dispatchEvent(new Event("input", { bubbles: true }));
    form.dispatchEvent(new CustomEvent("rows-changed", { bubbles: true }));
  }

  function number(row, name, place) {
    const mine = new RegExp(`(^|[ -])${name}-\\d+(?=-|_|$)`, "g");
    for (const one of [row, ...row.querySelectorAll("*")]) for (const part of ROW_PARTS) {
      if (part === "value" && one.tagName !== "BUTTON") continue;
      const said = one.getAttribute(part);
      if (said) one.setAttribute(part, said.replace(mine, `$1${name}-${place}`));
    }
    for (const one of row.querySelectorAll("[data-nth]")) one.textContent = place + 1;
  }

  /* Rows that belong to a row which moved go with it, and those of one that went go too. was: where each row stood. */
  function renumberChoices(form, name, was) {
    for (const choice of form.querySelectorAll(`select[data-numbers="${name}"]`)) {
      if ("less" in choice.dataset) continue;
      const now = was.indexOf(Number(choice.value) - 1), row = choice.closest("[data-in]");
      if (now < 0 && row) row.remove();
      else choice.dataset.now = now + 1;
    }
    for (const kind of new Set([...form.querySelectorAll("[data-in]")].map((one) => one.dataset.in))) of(form, kind).forEach((one, place) => number(one, kind, place));
  }

  function settle(form) {
    for (const choice of form.querySelectorAll("select[data-numbers]")) {
      const count = of(form, choice.dataset.numbers).length - ("less" in choice.dataset ? 1 : 0), chosen = choice.dataset.now || choice.value;
      delete choice.dataset.now;
      choice.querySelectorAll("option:not([value=''])").forEach((one) => one.remove());
      for (let n = 1; n <= count; n += 1) choice.append(new Option(choice.dataset.words.replace("1", n), n, false, String(n) === chosen));
    }
    form.querySelectorAll("select").forEach(show);
  }

  function show(chosen) {
    const place = chosen.closest("[data-in]") || chosen.form, says = chosen.value;
    if (!chosen.name) return;
    for (const part of place.querySelectorAll(`[data-when="${leaf(chosen)}"]`)) {
      if (part.closest("[data-in]") !== chosen.closest("[data-in]") && chosen.closest("[data-in]")) continue;
      const off = !(part.dataset.is === "*" ? says : part.dataset.is.split(" ").includes(says));
      part.hidden = off;
      fields(part).forEach((one) => { one.disabled = off; });
    }
    for (const choice of place.querySelectorAll(`select[data-groups="${leaf(chosen)}"]`)) offer(choice, chosen);
  }

  /* Of the groups of a choice only that of the word chosen beside it is there: the same value may stand in several. */
  const groups = new WeakMap();
  function offer(choice, asked) {
    if (!groups.has(choice)) groups.set(choice, [...choice.querySelectorAll("optgroup")]);
    const here = choice.querySelector("optgroup"), word = asked.selectedOptions[0]?.text;
    const wanted = groups.get(choice).find((one) => one.label === word);
    if (here && here === wanted && choice.querySelectorAll("optgroup").length === 1) return;
    groups.get(choice).forEach((one) => one.remove());
    if (wanted) { choice.append(wanted); wanted.hidden = wanted.disabled = false; }
  }
  const offerAll = () => document.querySelectorAll("select[data-groups]").forEach((choice) => {
    const asked = fields(choice.closest("[data-in]")).find((one) => leaf(one) === choice.dataset.groups);
    if (asked) offer(choice, asked);
  });

  offerAll();
  document.addEventListener("htmx:afterSwap", offerAll);
  document.querySelectorAll("button[data-adds][hidden]").forEach((one) => { one.hidden = false; });
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-adds], button[data-do]");
    if (!button) return;
    if (button.dataset.adds ? add(button) : (change(button), true)) event.preventDefault();
  });
  document.addEventListener("change", (event) => { if (event.target.matches("select") && event.target.form) show(event.target); });
  /* What is sent while somebody types presses no button; htmx would send the one pressed last. */
  document.addEventListener("htmx:configRequest", ({ target, detail }) => { if (target.matches("form")) delete detail.parameters.do; });
})();
