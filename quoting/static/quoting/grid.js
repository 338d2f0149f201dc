/* A grid of cells: arrow keys and Enter move, Shift with an arrow chooses a range, Ctrl+D or the button fills it from its
   first cell, or without a range the empty cells below; rows and columns of a spreadsheet are pasted. Only what was
   changed is sent. Without this script the cells are plain fields. On a phone one row is open at a time. */
"use strict";
(() => {
  const grid = document.getElementById("grid"), acts = document.querySelector(".grid-acts");
  document.addEventListener("change", ({ target }) => target.closest("form[data-goes]")?.requestSubmit());
  if (!grid) return;
  const says = acts.querySelector("[role=status]"), undo = acts.querySelector("[data-undoes]");
  const rows = () => [...grid.tBodies ? grid.tBodies[0].rows : grid.querySelectorAll("tbody tr")];
  const fieldAt = (row, column) => row?.cells[column]?.querySelector("input:not([type=hidden])");
  const placeOf = (field) => ({ row: rows().indexOf(field.closest("tr")), column: field.closest("td").cellIndex });
  let at = null, anchor = null, before = [];

  function mark(field) { field.classList.toggle("changed", "typed" in field.dataset || field.value !== field.defaultValue); }

  function write(pairs, words) {
    before = pairs.map(([field]) => [field, field.value]);
    for (const [field, value] of pairs) {
      field.value = value;
      mark(field);
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }
    undo.hidden = !pairs.length;
    says.textContent = words;
  }

  const chosen = () => {
    if (!at || !anchor || anchor.column !== at.column) return [];
    const [from, to] = [anchor.row, at.row].sort((a, b) => a - b);
    return rows().slice(from, to + 1).map((row) => fieldAt(row, at.column)).filter(Boolean);
  };

  function show() {
    for (const cell of grid.querySelectorAll(".picked")) cell.classList.remove("picked");
    const range = chosen();
    if (range.length > 1) for (const field of range) field.closest("td").classList.add("picked");
  }

  function go(field) {
    field.focus();
    field.select();
  }

  function step(from, down, across) {
    const all = rows();
    for (let { row, column } = from; ;) {
      row += down;
      column += across;
      if (row < 0 || row >= all.length || column < 1 || column >= all[row].cells.length) return null;
      const field = fieldAt(all[row], column);
      if (field) return field;
    }
  }

  function fill() {
    if (!at) { says.textContent = "Go to a cell first."; return; }
    const range = chosen(), first = range.length > 1 ? range[0] : fieldAt(rows()[at.row], at.column);
    const rest = range.length > 1 ? range.slice(1) : rows().slice(at.row + 1).map((row) => fieldAt(row, at.column)).filter((field) => field && !field.value);
    write(rest.map((field) => [field, first.value]), `${rest.length} cell${rest.length === 1 ? "" : "s"} filled, not saved yet.`);
    first.focus();
  }

  grid.addEventListener("focusin", ({ target }) => {
    if (!target.matches("td input")) return;
    at = placeOf(target);
    target.dataset.was = target.value;
  });
  grid.addEventListener("pointerdown", ({ target, shiftKey }) => {
    if (!target.matches("td input")) return;
    if (!shiftKey) anchor = placeOf(target);
    setTimeout(show);
  });
  grid.addEventListener("input", ({ target }) => mark(target));
  grid.addEventListener("keydown", (event) => {
    const field = event.target, { key } = event;
    if (!field.matches("td input") || event.altKey) return;
    if ((event.ctrlKey || event.metaKey) && key.toLowerCase() === "d") { event.preventDefault(); return fill(); }
    if (event.ctrlKey || event.metaKey) return;
    const typing = field.value !== field.dataset.was;
    let next = null;
    if (key === "Enter") next = step(at, 1, 0) || field;
    else if ((key === "ArrowDown" || key === "ArrowUp") && !(typing && field.list)) next = step(at, key === "ArrowDown" ? 1 : -1, 0);
    else if (key === "ArrowRight" && !event.shiftKey && field.selectionStart === field.value.length) next = step(at, 0, 1);
    else if (key === "ArrowLeft" && !event.shiftKey && field.selectionEnd === 0) next = step(at, 0, -1);
    else if (key === "Escape") { anchor = at; return show(); }
    if (!next) return;
    event.preventDefault();
    if (!event.shiftKey) anchor = placeOf(next);
    else anchor = anchor || at;
    go(next);
    show();
  });

  grid.addEventListener("paste", (event) => {
    const text = event.clipboardData.getData("text/plain").replace(/\r\n?/g, "\n").replace(/\n$/, "");
    if (!event.target.matches("td input") || !/[\t\n]/.test(text)) return;
    event.preventDefault();
    const all = rows(), from = placeOf(event.target), pairs = [];
    let without = 0;
    text.split("\n").forEach((line, down) => line.split("\t").forEach((value, across) => {
      const field = fieldAt(all[from.row + down], from.column + across);
      if (field) pairs.push([field, value.trim()]);
      else if (value.trim()) without += 1;
    }));
    write(pairs, `${pairs.length} cells pasted, not saved yet.${without ? ` ${without} had no cell here.` : ""}`);
    event.target.focus();
  });

  acts.querySelector("[data-fills]").addEventListener("click", fill);
  undo.addEventListener("click", () => { write(before, "Undone."); undo.hidden = true; before[0]?.[0].focus(); });
  grid.addEventListener("submit", () => {
    for (const row of rows()) {
      const fields = [...row.querySelectorAll("td input")], still = fields.filter((field) => !field.classList.contains("changed"));
      for (const field of still) field.disabled = true;
      if (still.length === fields.length) row.querySelector("input[type=hidden]").disabled = true;
    }
  });
  addEventListener("pageshow", () => { for (const field of grid.elements) field.disabled = false; });

  for (const button of grid.querySelectorAll(".short")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      for (const other of grid.querySelectorAll(".short")) other.setAttribute("aria-expanded", String(other === button && button.getAttribute("aria-expanded") === "false"));
    });
  }
  acts.querySelector("[data-fills]").hidden = false;
})();
