"use strict";
// The keys below the value, and beside it what the value means and the band in which it should be.

/* exported Keypad, isWithin, meterNumber, valueAfter */

// What stands in the field after a key. A unit is behind the number: another key takes its place,
// but for the two letters of mA.
function valueAfter(value, key) {
  if (key === "clear") return "";
  if (key === "OL") return "OL";
  const typed = value === "OL" ? "" : value;
  const [number, mark = ""] = typed.split(" ");
  if (/^[kMmA]$/.test(key)) {
    if (!number) return typed;
    return mark === "m" && key === "A" ? `${number} mA` : `${number} ${key}`;
  }
  if (mark) return typed;
  return key === "." && number.includes(".") ? typed : number + key;
}

// A comma is taken for what it can only be; NaN where it can be two things.
function plainNumber(text) {
  if (/^(\d{1,9}(\.\d{1,6})?|\.\d{1,6})$/.test(text)) return Number(text);
  if (/^[1-9]\d{0,2},\d{3}$/.test(text)) return NaN;
  if (/^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/.test(text)) return Number(text.replaceAll(",", ""));
  if (/^[1-9]\d{0,2}((\.\d{3})+,\d+|(\.\d{3}){2,})$/.test(text)) {
    return Number(text.replaceAll(".", "").replace(",", "."));
  }
  return /^\d{1,9},\d{1,6}$/.test(text) ? Number(text.replace(",", ".")) : NaN;
}

// The number in the unit of the kind; NaN while it is none. The server decides (reading_value.py).
function meterNumber(text, factors) {
  if (/^\s*ol\s*$/i.test(text)) return Infinity;
  const found = /^\s*([\d.,]{1,20})\s*([a-zA-Z\u03a9\u2126]*\s*[a-zA-Z\u03a9\u2126]*)\s*$/.exec(
    text,
  );
  if (!found) return NaN;
  const factor = factors[found[2].replace(/\s/g, "")];
  return factor === undefined ? NaN : plainNumber(found[1]) * factor;
}

// Whether a number is in its band; a band without an end has null there.
function isWithin([low, high], number) {
  return number >= low && (high === null || number <= high);
}

class Keypad {
  // `ends` and `conditions` say of what and under what the value is.
  constructor(form, hint, texts, ends, conditions) {
    this.ends = ends;
    this.conditions = conditions;
    this.form = form;
    this.hint = hint;
    this.texts = texts;
    this.field = form.querySelector("#f-value");
    this.kind = form.querySelector("#f-kind");
    this.keys = form.querySelector("#keys");
    this.keys.hidden = false;
    form.querySelector("#ol").hidden = true; // there is a key for it
    this.field.setAttribute("inputmode", "none"); // the phone's own keypad would cover ours
    this.keys.addEventListener("click", (event) => {
      const key = event.target.closest("button");
      if (key) this.set(valueAfter(this.field.value, key.value));
    });
    form.addEventListener("input", () => this.tell());
    form.addEventListener("change", () => this.tell());
  }

  set(value) {
    this.field.value = value;
    this.tell();
    this.field.dispatchEvent(new Event("typed", { bubbles: true }));
  }

  get valve() {
    return this.form.querySelector("[name=valve]:checked");
  }

  get unit() {
    const chosen = this.kind.selectedOptions[0].dataset;
    return {
      name: chosen.unit,
      factors: JSON.parse(chosen.factors),
      keys: JSON.parse(chosen.keys),
    };
  }

  get number() {
    return meterNumber(this.field.value, this.unit.factors);
  }

  // The keys of this unit, what the value means in it, and whether that is expected.
  tell() {
    this.ends.tell(this.valve?.value ?? "");
    this.field.hidden = this.keys.hidden = !this.ends.hasValue;
    for (const key of this.keys.querySelectorAll(".marks button")) {
      key.hidden = !this.unit.keys.includes(key.value);
    }
    const { band } = this;
    const day = this.form.querySelector("#f-day").value;
    const said = this.ends.hasValue ? [this.meaning(), band && this.judgment(band)] : [];
    if (day) said.push(this.texts.ofDay.replace("#day", day));
    this.hint.textContent = said.filter(Boolean).join(" ");
  }

  // None of a conductor; what volts there should be follows from those at the terminals.
  get band() {
    if (!this.valve || this.ends.isOfNoValve) return undefined;
    if (this.unit.name === "V" && this.conditions.hasTerminalVolts) return undefined;
    return JSON.parse(this.valve.dataset.bands)[this.kind.value];
  }

  // Ohms without those of the meter's leads.
  get net() {
    const less = this.unit.name === "Ω" ? this.conditions.leadOhms : 0;
    return Math.max(this.number - less, 0);
  }

  // "= 1200 Ω" for 1.2 k, so that nobody takes one unit for another; what is no value says so.
  meaning() {
    const typed = this.field.value.trim();
    if (!typed || typed === ".") return "";
    if (Number.isNaN(this.number)) return this.texts.unclear;
    if (this.number === Infinity) return "";
    const shown = `= ${Number(this.number.toFixed(6))} ${this.unit.name}.`;
    if (this.net === this.number) return shown;
    return `${shown} ${this.texts.lessLeads.replace("#ohms", Number(this.net.toFixed(3)))}`;
  }

  judgment([low, high, shown]) {
    const expected = this.texts.expected.replace("#band", shown);
    if (Number.isNaN(this.number)) return expected;
    const within = isWithin([low, high], this.net);
    return `${expected} ${within ? this.texts.inside : this.texts.outside}`;
  }
}
