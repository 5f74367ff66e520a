"use strict";
// The page on which a crew writes down a reading, or that something differs from the tag.
//
// Without script it is a plain form. With it, an entry is first kept in the phone's queue and then
// sent from there, so that it may be entered without signal. No word stands here: they are the
// data-* of #state, and so are the addresses and limits of the server.

/* global CrewName, Keypad, ReadingEnds, ValveTiles, WaitingList, WalkConditions, addText */
/* global minuteOf, newMark, smallerPhoto */

(() => {
  const byId = (id) => document.getElementById(id);
  const texts = byId("state").dataset;
  const readingForm = byId("entry"); // missing where no valve is
  const differenceForm = document.querySelector("[data-kept]:not(#entry)");
  const verdicts = byId("said");
  const nextButton = byId("next");
  const hint = byId("hint");
  const place = new URLSearchParams(location.search).get("box");

  const placeField = byId("f-box");
  if (placeField && place && [...placeField.options].some((option) => option.value === place)) {
    placeField.value = place;
  }
  if (location.hash === "#differs") byId("differs").open = true;

  const ends = readingForm && new ReadingEnds(readingForm, place);
  const conditions = readingForm && new WalkConditions(readingForm);
  const keypad = readingForm && new Keypad(readingForm, hint, texts, ends, conditions);
  const tiles = readingForm && new ValveTiles(readingForm, place);

  // ---- the valve in hand, and the next one --------------------------------------------------

  function isRead() {
    return !ends.hasValue || keypad.field.value.trim() !== "";
  }

  function tellValve() {
    keypad.tell();
    byId("valve-name").textContent = ends.isOfNoValve ? ends.name : tiles.name || texts.choose;
    const after = ends.isOfNoValve ? undefined : tiles.after;
    nextButton.hidden = !after;
    const text = isRead() ? texts.saveNext : texts.skip;
    if (after) nextButton.textContent = text.replace("#valve", after.value);
  }

  if (readingForm) {
    readingForm.noValidate = true; // what is missing is told beside the keys
    if (tiles.isInBox !== null) {
      keypad.kind.value = tiles.isInBox ? texts.inBox : texts.atController;
    }
    readingForm.addEventListener("change", tellValve);
    readingForm.addEventListener("input", tellValve);
    readingForm.addEventListener("typed", tellValve);
    tellValve();
    // It says what it does: it saves what is typed, or leaves this valve out.
    nextButton.addEventListener("click", () => {
      const after = tiles.after;
      if (isRead() && !saveForm(readingForm)) return;
      tiles.choose(after);
      tellValve();
    });
  }

  // ---- what was saved, and what waits -------------------------------------------------------

  const VERDICTS_SHOWN = 2; // so that the keys stay where they are: our choice

  function showVerdict(told) {
    const box = document.createElement("div");
    box.className = "verdict";
    const head = addText("p", "", box);
    addText("span", told.sign, head).className = "sign";
    addText("b", told.title, head);
    for (const line of told.lines) addText("p", line, box);
    verdicts.prepend(box);
    while (verdicts.children.length > VERDICTS_SHOWN) verdicts.lastChild.remove();
    verdicts.hidden = false;
  }

  // What was refused can be changed in its own form, where this page has that.
  function changeOf(entry) {
    const isDifference = entry.fields.kind === "difference";
    const form = isDifference ? differenceForm : readingForm;
    if (!form || form.action !== entry.action) return null;
    const isHere = !entry.fields.valve || tiles.find(entry.fields.valve);
    return isDifference || isHere ? () => putBack(entry, form) : null;
  }

  const waiting = new WaitingList({ accepted: showVerdict, change: changeOf });

  // The entry is dropped when what replaces it is kept, not before.
  let replaced = {};

  function putBack(entry, form) {
    if (form === readingForm) {
      keypad.kind.value = entry.fields.kind; // it says which fields there are
      ends.tell(entry.fields.valve ?? "");
    }
    for (const field of form.elements) {
      const value = entry.fields[field.name];
      if (field.type === "radio") {
        field.checked = field.value === value;
      } else if (field.type === "checkbox") {
        field.checked = value !== undefined;
      } else if (field.matches("textarea, select, .field") && value !== undefined) {
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
    if (form === readingForm) tellValve();
    form.scrollIntoView();
  }

  // ---- saving -------------------------------------------------------------------------------

  function fieldsOf(form) {
    const written = [...new FormData(form)].filter(([, value]) => typeof value === "string");
    const fields = Object.fromEntries(written);
    delete fields.token; // of this page; the sender has the newest
    if (form === readingForm && ends.isOfNoValve) delete fields.valve;
    return { ...fields, id: newMark(), when: minuteOf(new Date()) };
  }

  // Whether there is something to keep; else the eye is led to what is missing.
  function isFilledIn(form, fields, photo) {
    if (form === readingForm) {
      if (!isRead()) {
        hint.textContent = texts.empty;
        keypad.field.focus();
      } else if (ends.isMissing) {
        hint.textContent = texts.ends;
      } else if (!ends.isOfNoValve && !fields.valve) {
        hint.textContent = texts.choose;
        tiles.open();
      } else {
        return true;
      }
      return false;
    }
    if (photo || fields.notes.trim()) return true;
    form.elements.notes.focus();
    return false;
  }

  // The day of a sheet of paper stays: its other lines are of that day, too.
  function emptyForm(form) {
    for (const field of form.querySelectorAll("textarea, [type=file], .value")) field.value = "";
    if (form === readingForm) tellValve();
  }

  // The form is empty at once, so that an impatient finger finds nothing to save twice.
  function saveForm(form) {
    const file = form.querySelector("[type=file]")?.files[0];
    const fields = fieldsOf(form);
    if (!isFilledIn(form, fields, file)) return false;
    emptyForm(form);
    keepEntry(form, fields, file).catch(() => {
      // A phone that keeps nothing: the form is sent as it would be without script.
      putBack({ fields, photo: file }, form);
      form.elements.id.value = fields.id;
      form.elements.when.value = fields.when;
      form.submit();
    });
    return true;
  }

  async function keepEntry(form, fields, file) {
    const photo = file ? await smallerPhoto(file, Number(texts.photoSide)) : null;
    const entry = { id: fields.id, at: Date.now(), action: form.action, fields, photo };
    if (photo && photo.size > Number(texts.photoBytes)) entry.refused = texts.large;
    if (!photo && (await waiting.queue.hasLike(entry))) {
      hint.textContent = texts.keptAlready;
      return;
    }
    await waiting.queue.keep({ ...entry, crew: CrewName.last() });
    if (replaced.form === form) {
      await waiting.queue.drop(replaced.id);
      replaced = {};
    }
    navigator.storage?.persist?.();
    await waiting.show(texts.sending);
    waiting.send();
    if (form === differenceForm) waiting.box.scrollIntoView({ block: "nearest" });
  }

  addEventListener("submit", (event) => {
    if (!event.target.matches("[data-kept]")) return;
    event.preventDefault();
    saveForm(event.target);
  });

  waiting.send();

  // Whoever comes to this page first has the record on the phone, too.
  if ("serviceWorker" in navigator && isSecureContext) {
    const worker = new URL(texts.worker, location.href);
    const goOn = async () => (await navigator.serviceWorker.ready).active.postMessage("open");
    navigator.serviceWorker.addEventListener("controllerchange", goOn);
    navigator.serviceWorker
      .register(worker, { updateViaCache: "none" })
      .then(goOn)
      .catch(() => {});
  }
})();
