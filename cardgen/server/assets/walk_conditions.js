"use strict";
// What holds for a whole walk, entered once: kept on the phone for this job until the day is over.

/* global minuteOf */
/* exported WalkConditions */

class WalkConditions {
  constructor(form) {
    this.fields = [...form.querySelectorAll("#conditions input, #conditions select")];
    this.said = form.querySelector("#conditions-said");
    this.key = `cardgen walk ${new URL(".", location.href).pathname}`;
    this.restore();
    this.tell();
    form.querySelector("#conditions").addEventListener("input", () => {
      this.keep();
      this.tell();
    });
  }

  get day() {
    return minuteOf(new Date()).slice(0, "2026-03-14".length);
  }

  restore() {
    let kept;
    try {
      kept = JSON.parse(localStorage.getItem(this.key));
    } catch {
      return;
    }
    if (kept?.day !== this.day) return;
    for (const field of this.fields) {
      if (field.type === "checkbox") field.checked = field.name in kept.values;
      else field.value = kept.values[field.name] ?? field.value;
    }
  }

  keep() {
    const isSaid = (field) => (field.type === "checkbox" ? field.checked : field.value);
    const values = this.fields.filter(isSaid).map(({ name, value }) => [name, value]);
    try {
      localStorage.setItem(
        this.key,
        JSON.stringify({ day: this.day, values: Object.fromEntries(values) }),
      );
    } catch {
      // A phone that keeps nothing: they hold as long as the page is open.
    }
  }

  // Folded up, it still says what holds.
  tell() {
    const told = [];
    for (const field of this.fields) {
      if (field.checked) told.push(field.closest("label").textContent);
      else if (field.dataset.unit && field.value.trim()) {
        const scale = field.name === "degrees" ? this.field("scale").value : "";
        told.push(`${field.value.trim()} ${field.dataset.unit}${scale}`);
      }
    }
    this.said.textContent = told.join(", ");
  }

  field(name) {
    return this.fields.find((field) => field.name === name);
  }

  get leadOhms() {
    return Number(this.field("lead_ohms").value.replace(",", ".")) || 0;
  }

  get hasTerminalVolts() {
    return this.field("terminal_volts").value.trim() !== "";
  }
}
