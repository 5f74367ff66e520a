"use strict";

// The sheet in the printer as a picture: the first card that is free is chosen in it, by a press,
// by keys, or as a number in the field above.
class FirstCard {
  static STEPS = { ArrowLeft: -1, ArrowRight: 1, Home: -Infinity, End: Infinity };

  constructor(box) {
    this.box = box;
    this.field = box.querySelector("input");
    this.stock = document.getElementById("f-stock");
    this.stock.addEventListener("change", () => {
      this.field.value = "1"; // another sheet is in the printer
      this.change();
    });
    this.field.addEventListener("input", () => this.mark());
    for (const sheet of box.querySelectorAll("svg")) this.listen(sheet);
    this.change();
  }

  listen(sheet) {
    sheet.setAttribute("role", "radiogroup");
    for (const card of sheet.querySelectorAll(".card")) {
      card.setAttribute("role", "radio");
      card.addEventListener("click", () => this.choose(Number(card.dataset.number)));
    }
    sheet.addEventListener("keydown", (event) => this.key(event));
  }

  get sheet() {
    return this.box.querySelector(`[data-stock="${this.stock.value}"] svg`);
  }

  get cards() {
    return [...(this.sheet?.querySelectorAll(".card") ?? [])];
  }

  // A roll has one card a page, of which nothing is used.
  change() {
    for (const each of this.box.querySelectorAll("[data-stock]")) {
      each.hidden = each.dataset.stock !== this.stock.value;
    }
    const count = this.cards.length || 1;
    this.box.hidden = count === 1;
    this.field.max = count;
    if (!(Number(this.field.value) <= count)) this.field.value = "1";
    this.mark();
  }

  choose(number) {
    const chosen = Math.min(Math.max(number, 1), this.cards.length);
    this.field.value = chosen;
    this.mark();
    this.cards[chosen - 1].focus();
  }

  mark() {
    const { cards } = this;
    const start = Number(this.field.value);
    const chosen = cards[start - 1] ? start : 1; // a field may be empty while one types
    cards.forEach((card, index) => {
      const isChosen = index + 1 === chosen;
      card.classList.toggle("used", index + 1 < chosen);
      card.setAttribute("aria-checked", String(isChosen));
      card.setAttribute("tabindex", isChosen ? "0" : "-1");
    });
  }

  key(event) {
    const columns = Number(this.sheet.dataset.columns);
    const step = { ...FirstCard.STEPS, ArrowUp: -columns, ArrowDown: columns }[event.key];
    const isPress = event.key === " " || event.key === "Enter";
    if (!step && !isPress) return;
    event.preventDefault();
    const from = Number(event.target.closest(".card")?.dataset.number);
    const to = from + (step ?? 0);
    const isOff = Number.isFinite(to) && !this.cards[to - 1];
    if (from && !isOff) this.choose(to);
  }
}

const firstCard = document.getElementById("first-card");
if (firstCard) new FirstCard(firstCard);
