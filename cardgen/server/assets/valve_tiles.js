"use strict";
// The valves that are measured at this place, in the order in which one walks, and which is in hand.
//
// The page that a phone keeps is that of the whole job, so the address says the place. A terminal
// that runs several coils is one reading at its controller, and several coils in their boxes.

/* exported ValveTiles */

class ValveTiles {
  constructor(form, place) {
    this.list = form.querySelector("#valves");
    this.form = form;
    const all = [...form.querySelectorAll("[name=valve]")];
    const isOfBox = (tile) => tile.closest("label").dataset.box === place;
    const isOfController = (tile) => tile.dataset.controller === place;
    const isCoilOfMany = (tile) => tile.closest("label").dataset.terminal !== undefined;
    this.isInBox = null; // not known where no place is named
    let shown = all;
    if (place && all.some(isOfBox)) {
      this.isInBox = true;
      shown = all.filter(isOfBox);
    } else if (place && all.some(isOfController)) {
      this.isInBox = false;
      shown = all.filter((tile) => isOfController(tile) && !isCoilOfMany(tile));
      shown.sort((one, other) => one.dataset.rank - other.dataset.rank);
    }
    this.shown = shown;
    for (const tile of all) tile.closest("label").hidden = !shown.includes(tile);
    for (const box of form.querySelectorAll("fieldset")) {
      box.hidden = !box.querySelector("label:not([hidden])");
    }
    const asked = this.find(new URLSearchParams(location.search).get("valve"));
    // From the first terminal on one goes along the strip; in a box one has to look at the tags.
    const isClear = this.isInBox === false || shown.length === 1;
    const first = asked || (isClear ? shown[0] : undefined);
    const checked = this.chosen;
    if (first && !(checked && shown.includes(checked))) first.checked = true;
    this.list.addEventListener("change", () => this.close());
    if (this.chosen) this.close();
  }

  get chosen() {
    return this.form.querySelector("[name=valve]:checked");
  }

  find(name) {
    return this.shown.find((tile) => tile.value === name);
  }

  // "A1 front lawn"
  get name() {
    const { chosen } = this;
    return chosen ? `${chosen.value} ${chosen.dataset.about}` : "";
  }

  get after() {
    return this.chosen ? this.shown[this.shown.indexOf(this.chosen) + 1] : undefined;
  }

  choose(tile) {
    tile.checked = true;
    this.close();
  }

  // In a box of few valves all of them stay in view.
  close() {
    const FEW = 3;
    this.list.open = this.shown.length <= FEW;
  }

  open() {
    this.list.open = true;
    this.list.scrollIntoView({ block: "nearest" });
  }
}
