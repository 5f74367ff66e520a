"use strict";
// The page on which a crew writes down a reading, or that something differs from the tag.
//
// Without script it is a plain form. With it, an entry is first kept in the phone's queue and then
// sent from there, so that it may be entered without signal. No word stands here: they are the
// data-* of #state, and so are the addresses and limits of the server.

/* global EntryQueue, EntrySender, CrewName, Keypad, minuteOf, newMark, smallerPhoto */

(() => {
  const byId = (id) => document.getElementById(id);
  const texts = byId("state").dataset;
  const readingForm = byId("entry"); // missing where no valve is
  const differenceForm = document.querySelector("[data-kept]:not(#entry)");
  const waitingList = byId("waiting");
  const verdicts = byId("said");
  const nextButton = byId("next");
  const hint = byId("hint");

  // ---- which valves are shown, and which is chosen ------------------------------------------

  // The page that a phone keeps is that of the whole job, so the address says the place.
  const asked = new URLSearchParams(location.search);
  const place = asked.get("box");
  const tiles = [...document.querySelectorAll("[name=valve]")];
  const isAt = (tile) => !place || tile.dataset.box === place || tile.dataset.controller === place;
  if (tiles.some(isAt)) {
    for (const tile of tiles) tile.closest("label").hidden = !isAt(tile);
    for (const box of document.querySelectorAll("fieldset[data-box]")) {
      box.hidden = ![...box.querySelectorAll("label")].some((label) => !label.hidden);
    }
  }
  const shownTiles = tiles.filter((tile) => !tile.closest("label").hidden);
  const only = shownTiles.length === 1 ? shownTiles[0] : undefined;
  const first = shownTiles.find((tile) => tile.value === asked.get("valve")) || only;
  if (first && !tiles.some((tile) => tile.checked)) first.checked = true;

  const placeField = byId("f-box");
  if (placeField && place && [...placeField.options].some((option) => option.value === place)) {
    placeField.value = place;
  }
  if (location.hash === "#differs") byId("differs").open = true;

  const keypad = readingForm && new Keypad(readingForm, hint, texts);

  // ---- the next valve -----------------------------------------------------------------------

  // Many stations are measured in a row at a controller: the next is one press away.
  const tileAfter = () => shownTiles[shownTiles.findIndex((tile) => tile.checked) + 1];

  async function offerNextValve() {
    const valve = keypad.chosen("valve");
    const after = tileAfter();
    const isStuck = (entry) => entry.refused && entry.fields.valve === valve.value;
    nextButton.hidden = !valve || !after || (await queue.all()).some(isStuck);
    if (!nextButton.hidden) nextButton.textContent = texts.next.replace("#valve", after.value);
  }

  nextButton.addEventListener("click", () => {
    tileAfter().checked = true;
    nextButton.hidden = true;
    keypad.tellBand();
    keypad.field.scrollIntoView({ block: "center" });
  });

  // ---- what waits on the phone --------------------------------------------------------------

  const queue = new EntryQueue();
  const sender = new EntrySender(queue, texts, showVerdict);

  function addText(tag, text, parent) {
    const element = document.createElement(tag);
    element.textContent = text;
    parent.append(element);
    return element;
  }

  function addButton(text, parent, press) {
    const button = addText("button", text, parent);
    button.type = "button";
    button.className = "quiet";
    button.addEventListener("click", press);
  }

  function showVerdict(told) {
    const box = document.createElement("div");
    box.className = "verdict";
    const head = addText("p", "", box);
    addText("span", told.sign, head).className = "sign";
    addText("b", told.title, head);
    for (const line of told.lines) addText("p", line, box);
    verdicts.prepend(box);
    verdicts.hidden = false;
  }

  // `obstacle` is what `EntrySender.send` returns.
  async function showWaiting(obstacle) {
    const entries = await queue.all();
    if (!nextButton.hidden) await offerNextValve();
    waitingList.textContent = "";
    waitingList.hidden = !entries.length;
    const refused = entries.filter((entry) => entry.refused);
    const number = entries.length - refused.length;
    if (number) showNumber(number, obstacle);
    refused.forEach(showRefused);
  }

  function showNumber(number, obstacle) {
    const text = (number === 1 ? texts.waitsOne : texts.waits).replace("#number", number);
    addText("p", text, waitingList).id = "count";
    if (obstacle === "login") {
      const link = addText("a", texts.login, waitingList);
      link.className = "go";
      const back = encodeURIComponent(location.pathname + location.search);
      link.href = `${texts.loginPage}?to=${back}`;
    } else if (obstacle) {
      addText("p", obstacle, waitingList);
    }
  }

  function showRefused(entry) {
    const { fields } = entry;
    const about = [fields.valve || fields.box, fields.value, fields.notes];
    addText("p", about.filter(Boolean).join(": "), waitingList);
    addText("p", entry.refused, waitingList);
    const form = formFor(entry);
    if (form) addButton(texts.change, waitingList, () => putBack(entry, form));
    addButton(texts.again, waitingList, async () => {
      delete entry.refused;
      await queue.keep(entry);
      sendWaiting();
    });
    addButton(texts.away, waitingList, async () => {
      if (!confirm(texts.sure)) return;
      await queue.drop(entry.id);
      showWaiting();
    });
  }

  // ---- what was refused goes back into its form ---------------------------------------------

  // The entry is dropped when what replaces it is kept, not before.
  let replaced = {};

  // The form of this page in which an entry can be changed; none where it is of another place.
  function formFor(entry) {
    const form = entry.fields.kind === "difference" ? differenceForm : readingForm;
    if (!form || form.action !== entry.action) return null;
    const isShown = shownTiles.some((tile) => tile.value === entry.fields.valve);
    return form === differenceForm || isShown ? form : null;
  }

  function putBack(entry, form) {
    for (const field of form.elements) {
      const value = entry.fields[field.name];
      if (field.type === "radio") {
        field.checked = field.value === value;
      } else if (field.matches("textarea, select, .value") && value !== undefined) {
        field.value = value;
      }
    }
    if (entry.photo) {
      const files = new DataTransfer(); // the only way to put a file into a form
      files.items.add(new File([entry.photo], "photo", { type: entry.photo.type }));
      form.querySelector("[type=file]").files = files.files;
    }
    replaced = { id: entry.id, form };
    if (form === differenceForm) byId("differs").open = true;
    if (keypad) keypad.tellBand();
    form.scrollIntoView();
  }

  // ---- sending ------------------------------------------------------------------------------

  // One tab after the other: the second finds nothing left to send.
  function sendWaiting() {
    const work = async () => showWaiting(await sender.send());
    return navigator.locks ? navigator.locks.request("cardgen send", work) : work();
  }

  function fieldsOf(form) {
    const written = [...new FormData(form)].filter(([, value]) => typeof value === "string");
    const fields = Object.fromEntries(written);
    delete fields.token; // of this page; the sender has the newest
    return fields;
  }

  // Whether there is something to keep; else the eye is led to what is missing.
  function isFilledIn(form, fields, photo) {
    if (form === readingForm) {
      if (fields.value.trim()) return true;
      hint.textContent = texts.empty;
      keypad.field.focus();
      return false;
    }
    if (photo || fields.notes.trim()) return true;
    form.elements.notes.focus();
    return false;
  }

  async function keepEntry(form, fields, file) {
    const photo = file ? await smallerPhoto(file, Number(texts.photoSide)) : null;
    const entry = { id: fields.id, at: Date.now(), action: form.action, fields, photo };
    if (photo && photo.size > Number(texts.photoBytes)) entry.refused = texts.large;
    await queue.keep({ ...entry, crew: CrewName.last() });
    if (replaced.form === form) {
      await queue.drop(replaced.id);
      replaced = {};
    }
  }

  function emptyForm(form) {
    if (keypad) keypad.field.value = "";
    for (const field of form.querySelectorAll("textarea, [type=file]")) field.value = "";
    if (keypad) keypad.tellBand();
  }

  addEventListener("submit", async (event) => {
    const form = event.target;
    if (!form.matches("[data-kept]")) return;
    event.preventDefault();
    const file = form.querySelector("[type=file]")?.files[0];
    const fields = { ...fieldsOf(form), id: newMark(), when: minuteOf(new Date()) };
    if (!isFilledIn(form, fields, file)) return;
    try {
      await keepEntry(form, fields, file);
    } catch {
      // A phone that keeps nothing: the form is sent as it would be without script.
      form.elements.id.value = fields.id;
      form.elements.when.value = fields.when;
      form.submit();
      return;
    }
    emptyForm(form);
    navigator.storage?.persist?.();
    await sendWaiting();
    if (form === readingForm) await offerNextValve();
    const isLeft = (await queue.all()).some((entry) => entry.id === fields.id);
    (isLeft ? waitingList : verdicts).scrollIntoView();
  });

  const HALF_A_MINUTE = 30 * 1000;
  addEventListener("online", sendWaiting);
  addEventListener("visibilitychange", () => {
    if (!document.hidden) sendWaiting();
  });
  setInterval(async () => {
    if ((await queue.waiting()).length) sendWaiting();
  }, HALF_A_MINUTE);
  sendWaiting();

  // Whoever comes to this page first has the record on the phone, too.
  if ("serviceWorker" in navigator && isSecureContext) {
    const worker = new URL(texts.worker, location.href);
    navigator.serviceWorker.register(worker, { updateViaCache: "none" }).catch(() => {});
  }
})();
