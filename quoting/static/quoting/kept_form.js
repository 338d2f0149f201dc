/* Forms with data-keep: what is typed stays in this browser until the service has answered, and goes out again
   by itself, under the same request key, when the connection failed. Without this script the form is a plain one. */
"use strict";
(() => {
  const RETRY_MS = 15000, WAIT_MS = 60000, KEPT_SIDE_PX = 1600, LARGE_BYTES = 400000;
  const place = (form) => `kept-form ${form.dataset.keep}`;
  const forms = () => document.querySelectorAll("form[data-keep]");
  let waiting = null, timer = 0, busy = false;

  const fields = (form) => [...form.elements].filter((one) => one.name && one.type !== "file" && one.type !== "submit"
    && one.type !== "button" && one.name !== "csrfmiddlewaretoken");

  // Boxes of one name are told apart by their values.
  const slot = (one) => one.type === "checkbox" ? `${one.name}=${one.value}` : one.name;

  function keep(form) {
    const values = {};
    for (const one of fields(form)) {
      if (one.type === "radio") { if (one.checked) values[one.name] = one.value; }
      else values[slot(one)] = one.type === "checkbox" ? one.checked : one.value;
    }
    try { localStorage.setItem(place(form), JSON.stringify({ at: Date.now(), values })); } catch { /* A full or closed store: the page itself still holds it. */ }
  }

  function forget(form) {
    try { localStorage.removeItem(place(form)); } catch { /* Nothing was kept there. */ }
  }

  function told(form, words, canSend) {
    const line = form.querySelector("[data-kept-words]");
    if (!line) return;
    line.querySelector("p").textContent = words;
    line.querySelector("button").hidden = !canSend;
    line.hidden = !words;
  }

  function when(at) {
    const day = new Date(at), [name, month, date] = day.toDateString().split(" ");
    return `${name} ${Number(date)} ${month}, ${day.toTimeString().slice(0, 5)}`;
  }

  const photos = (form, words) => form.querySelector('input[type="file"]') ? words : "";

  function restore(form) {
    let kept = null;
    try { kept = JSON.parse(localStorage.getItem(place(form)) || "null"); } catch { kept = null; }
    if (!kept || form.dataset.filled === "yes") return;
    let differs = false;
    for (const one of fields(form)) {
      if (!(slot(one) in kept.values)) continue;
      const value = kept.values[slot(one)];
      if (one.type === "radio") { differs = differs || (one.value === value && !one.checked); one.checked = one.value === value; }
      else if (one.type === "checkbox") { differs = differs || one.checked !== value; one.checked = value; }
      else { differs = differs || (one.type !== "hidden" && one.value !== value); one.value = value; }
    }
    if (differs) told(form, `Kept here since ${when(kept.at)} and not sent yet. Look it over and send it.${photos(form, " Photos must be chosen again.")}`, false);
  }

  async function smaller(file) {
    if (!file.size || file.size < LARGE_BYTES || !/^image\/(jpeg|png)$/.test(file.type)) return file;
    try {
      const picture = await createImageBitmap(file);
      const scale = Math.min(1, KEPT_SIDE_PX / Math.max(picture.width, picture.height));
      const sheet = document.createElement("canvas");
      sheet.width = Math.round(picture.width * scale);
      sheet.height = Math.round(picture.height * scale);
      sheet.getContext("2d").drawImage(picture, 0, 0, sheet.width, sheet.height);
      const blob = await new Promise((done) => sheet.toBlob(done, "image/jpeg", 0.85));
      return blob && blob.size < file.size ? new File([blob], "photo.jpg", { type: "image/jpeg" }) : file;
    } catch { return file; }
  }

  async function whatGoes(form, submitter) {
    const all = new FormData(form, submitter), sent = new FormData();
    for (const [name, value] of all) {
      if (value instanceof File) { if (value.size) sent.append(name, await smaller(value)); }
      else sent.append(name, value);
    }
    return sent;
  }

  async function send(form, data) {
    if (busy) return;
    busy = true;
    clearTimeout(timer);
    told(form, "Sending …", false);
    const stop = new AbortController(), limit = setTimeout(() => stop.abort(), WAIT_MS);
    try {
      const answer = await fetch(form.action, { method: "POST", body: data, headers: { "X-Kept-Form": "1" }, signal: stop.signal, credentials: "same-origin" });
      if (answer.redirected || answer.status === 401) return loggedOut(form);
      if (answer.status >= 500) return later(form, data);
      const goTo = answer.headers.get("X-Go-To");
      if (goTo) { waiting = null; forget(form); location.assign(goTo); return; }
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const shown = page.querySelector("main");
      if (!shown) return later(form, data);
      waiting = null;
      document.querySelector("main").replaceWith(shown);
      for (const one of document.querySelectorAll("[data-all-good]")) one.hidden = false;
      for (const one of forms()) { one.dataset.filled = "yes"; keep(one); }
      const trouble = shown.querySelector('[role="alert"], .error');
      (trouble || shown).scrollIntoView();
    } catch { later(form, data); } finally { clearTimeout(limit); busy = false; }
  }

  function later(form, data) {
    waiting = { form, data };
    told(form, `Not sent: no connection. Nothing is lost: it stays here and goes out by itself as soon as there is a signal, once and no more.${photos(form, " Photos stay for as long as this page is open.")}`, true);
    timer = setTimeout(again, RETRY_MS);
  }

  function loggedOut(form) {
    waiting = null;
    told(form, "You are logged out. What you typed is kept on this device: log in, open this page again, and send it.", false);
  }

  const again = () => { if (waiting) send(waiting.form, waiting.data); };

  document.addEventListener("input", (event) => { const form = event.target.closest("form[data-keep]"); if (form) keep(form); });
  document.addEventListener("submit", async (event) => {
    const form = event.target.closest("form[data-keep]");
    if (!form) return;
    event.preventDefault();
    if (busy) return;
    keep(form);
    send(form, await whatGoes(form, event.submitter));
  });
  function tapAll(form) {
    for (const one of form.querySelectorAll('input[type="radio"][value="good"], input[type="radio"][value="all"]')) one.checked = true;
    keep(form);
  }

  // An answer tapped twice is taken back: that piece did not come.
  let was = null;
  document.addEventListener("pointerdown", (event) => { const one = event.target.closest(".taps input"); was = one && one.checked ? one : null; });
  document.addEventListener("click", (event) => { if (was && event.target === was) { was.checked = false; keep(was.form); } was = null; });
  document.addEventListener("click", (event) => { const all = event.target.closest("[data-all-good]"); if (all) tapAll(all.form); });
  document.addEventListener("click", (event) => { if (event.target.closest("[data-kept-words] button")) { event.preventDefault(); again(); } });
  addEventListener("online", again);
  for (const one of document.querySelectorAll("[data-all-good]")) one.hidden = false;
  forms().forEach(restore);
})();
