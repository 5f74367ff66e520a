"use strict";
// Between what and what a reading is: the fields that its kind has, with what is at this place.

/* exported ReadingEnds */

class ReadingEnds {
  constructor(form, place) {
    this.kind = form.querySelector("#f-kind");
    this.place = place;
    this.filledFor = "";
    // Some phones show options that are hidden, so those that are not wanted are taken out.
    this.fields = [...form.querySelectorAll(".end")].map((select) => {
      const [first, ...options] = select.options;
      return { select, first, options, asks: first.textContent };
    });
  }

  get ofKind() {
    return this.kind.selectedOptions[0].dataset;
  }

  // A walk test says what ran, and nothing is read where nobody came.
  get hasValue() {
    return this.ofKind.unit !== "";
  }

  // Of a conductor, or of two commons.
  get isOfNoValve() {
    return this.ofKind.ofNoValve !== undefined || this.value("from") !== "";
  }

  get isMissing() {
    return JSON.parse(this.ofKind.needed).some((name) => !this.value(name));
  }

  // "COM-A – A3"
  get name() {
    return this.fields
      .filter(({ select }) => !select.disabled && select.value)
      .map(({ select }) => select.value)
      .join(" – ");
  }

  value(name) {
    const { select } = this.fields.find((field) => field.select.name === name);
    return select.disabled ? "" : select.value;
  }

  // `valve` is the one in hand, which a field that is left as it is means.
  tell(valve) {
    const now = `${this.kind.value} ${valve}`;
    if (now === this.filledFor) return;
    this.filledFor = now;
    const ends = JSON.parse(this.ofKind.ends);
    const needed = JSON.parse(this.ofKind.needed);
    for (const { select, first, options, asks } of this.fields) {
      const what = ends[select.name];
      select.hidden = select.disabled = !what;
      if (!what) continue;
      const before = select.value;
      const own = select.dataset.own.replace("#valve", valve);
      first.textContent = needed.includes(select.name) || !valve ? asks : own;
      const wanted = this.here(options.filter((option) => what.includes(option.dataset.what)));
      const isOwn = (option) => option.value === valve && this.ofKind.ofNoValve === undefined;
      select.replaceChildren(first, ...wanted.filter((option) => !isOwn(option)));
      select.value = before;
      if (select.selectedIndex < 0) select.value = "";
    }
  }

  // Those at this place, and what is at no place; all where nothing of them is here.
  here(options) {
    const isHere = ({ dataset }) => {
      const places = JSON.parse(dataset.at);
      return !places.length || places.includes(this.place);
    };
    const found = options.filter(isHere);
    return found.length ? found : options;
  }
}
