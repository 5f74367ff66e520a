"use strict";
// The keys below the value, and beside it the band in which it should be.

/* exported Keypad, isWithin, valueAfter */

// What stands in the field after a key.
function valueAfter(value, key) {
  if (key === "clear") return "";
  if (key === "OL") return "OL";
  const typed = value === "OL" ? "" : value;
  return key === "." && typed.includes(".") ? typed : typed + key;
}

// Whether a value is in its band; null while there is no number. A band without an end has null.
function isWithin([low, high], value) {
  const number = value === "OL" ? Infinity : parseFloat(value.replace(",", "."));
  if (Number.isNaN(number)) return null;
  return number >= low && (high === null || number <= high);
}

class Keypad {
  constructor(form, hint, texts) {
    this.form = form;
    this.hint = hint;
    this.texts = texts;
    this.field = form.querySelector("#f-value");
    const keys = form.querySelector("#keys");
    keys.hidden = false;
    form.querySelector("#ol").hidden = true; // there is a key for it
    this.field.setAttribute("inputmode", "none"); // the phone's own keypad would cover ours
    this.field.setAttribute("autocomplete", "off");
    keys.addEventListener("click", (event) => {
      const key = event.target.closest("button");
      if (!key) return;
      this.field.value = valueAfter(this.field.value, key.value);
      this.tellBand();
    });
    form.addEventListener("input", () => this.tellBand());
    form.addEventListener("change", () => this.tellBand());
    this.tellBand();
  }

  chosen(name) {
    return this.form.querySelector(`[name=${name}]:checked`);
  }

  tellBand() {
    const valve = this.chosen("valve");
    const kind = this.chosen("kind");
    const band = valve && kind && JSON.parse(valve.dataset.bands)[kind.value];
    this.hint.textContent = band ? this.judgment(band) : "";
  }

  judgment([low, high, shown]) {
    const expected = this.texts.expected.replace("#band", shown);
    const within = isWithin([low, high], this.field.value);
    if (within === null) return expected;
    return `${expected} ${within ? this.texts.inside : this.texts.outside}`;
  }
}
