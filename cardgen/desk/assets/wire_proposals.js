"use strict";
/* exported WireProposals */
/* global deskCalls, deskWords, newButton, newElement */

// Which wires cardgen would choose, to be accepted one by one or all at once.
class WireProposals {
  constructor(words, address, accept) {
    this.words = words;
    this.address = address;
    this.accept = accept;
    this.box = document.getElementById("proposals");
  }

  async ask() {
    const told = await deskCalls.post(`${this.address}/wires`, {});
    this.box.hidden = false;
    this.box.replaceChildren(newElement("h2", this.words.proposals));
    if (!told.ok) {
      this.box.append(
        newElement("p", deskWords.sentence(told.sentence) || this.words["lost server"]),
      );
      return;
    }
    for (const problem of told.problems) {
      const line = newElement("p", "", { lang: problem.lang, class: "misfit" });
      line.append(
        newElement("b", deskWords.sentence(problem.sentence)),
        newElement("span", ` ${deskWords.sentence(problem.help)}`),
      );
      this.box.append(line);
    }
    if (!told.problems.length) this.fill(Object.entries(told.proposals));
  }

  fill(proposals) {
    if (!proposals.length) {
      this.box.append(newElement("p", this.words["no proposals"]));
      return;
    }
    const list = newElement("ul", "", { class: "findings" });
    for (const [station, wire] of proposals) {
      const item = document.createElement("li");
      item.append(newElement("b", station), newElement("span", wire));
      const take = newButton(this.words.accept, () => {
        item.remove();
        this.accept([[station, wire]]);
        this.box.hidden = !list.children.length;
      });
      take.setAttribute("aria-label", `${this.words.accept} ${station} ${wire}`);
      item.append(take);
      list.append(item);
    }
    const all = newButton(this.words["accept all"], () => {
      this.box.hidden = true;
      this.accept(proposals);
    });
    this.box.append(all, list);
  }
}
