"use strict";
/* exported TagPreview */
/* global deskCalls, deskWords, newElement */

// The tags of the row chosen, true to scale, also while one types into it.
class TagPreview {
  static WAIT = 180; // ms after the last key
  static LONG = 1500; // of a very large job, whose tags take the machine seconds

  constructor(words, names, address) {
    this.words = words;
    this.names = names;
    this.address = address;
    this.box = document.getElementById("preview");
    this.state = document.getElementById("preview-state");
    this.stock = document.getElementById("f-stock");
    this.language = document.getElementById("f-language");
    this.asked = 0;
    this.now = null;
    this.typed = null; // what is being typed into it, and is not in the file
    this.isLarge = false;
    this.isDue = false; // what is drawn is not yet what was asked for last
    for (const choice of [this.stock, this.language]) {
      const kept = localStorage.getItem(`desk ${choice.id}`);
      if (kept && [...choice.options].some((each) => each.value === kept)) choice.value = kept;
      choice.addEventListener("change", () =>
        localStorage.setItem(`desk ${choice.id}`, choice.value),
      );
    }
  }

  get choices() {
    return { stock: this.stock.value, language: this.language.value };
  }

  show(row) {
    if (row !== this.now) this.typed = null;
    this.now = row;
    this.isDue = true;
    clearTimeout(this.timer);
    this.asked += 1; // what is on its way is not wanted any more
    this.timer = setTimeout(() => this.ask(), this.isLarge ? TagPreview.LONG : TagPreview.WAIT);
  }

  // `typed` is a section and its cells.
  typing(row, typed) {
    this.show(row);
    this.typed = typed;
  }

  // It goes into the file now, and the tag stays as it is until the file is judged.
  typingEnded() {
    this.typed = null;
  }

  // The tag is again as the file has it.
  typingLeft() {
    const had = this.typed;
    this.typed = null;
    if (had) this.again();
  }

  again() {
    if (this.now) this.show(this.now);
  }

  async ask() {
    const number = this.asked;
    const sent = { row: this.now, ...this.typed, ...this.choices };
    const told = await deskCalls.post(`${this.address}/preview`, sent);
    if (number !== this.asked) return;
    this.draw(told);
    this.isDue = false;
  }

  draw(told) {
    this.box.replaceChildren();
    if (!told.ok) {
      this.state.textContent = deskWords.sentence(told.sentence) || this.words["lost server"];
      return;
    }
    const said = { shown: "", none: this.words["tag none"], proposed: this.words["tag proposed"] };
    said["left out"] = this.words["tag left out"];
    said["in the way"] = told.first && this.inTheWay(told.first);
    this.state.textContent = said[told.state];
    for (const { sentence, lang } of told.misfits ?? []) {
      const alert = newElement("p", "", { class: "misfit" });
      alert.append(
        newElement("b", this.words["does not fit"]),
        newElement("span", ` ${deskWords.sentence(sentence)}`, { lang }),
      );
      this.box.append(alert);
    }
    for (const tag of told.tags) this.box.append(this.picture(tag));
  }

  // Where it is to be fixed; what is wrong there stands in the list, unless no row has it.
  inTheWay({ section, row, sentence }) {
    const where = this.names[section] && row ? `${this.names[section]} ${row}` : sentence;
    return deskWords.fill(this.words["tag in the way"], { name: where });
  }

  picture(tag) {
    const figure = document.createElement("figure");
    const image = newElement("img", "", { alt: tag.says });
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(tag.svg)}`;
    figure.append(image, newElement("figcaption", `${tag.id} · ${tag.size}`));
    return figure;
  }
}
