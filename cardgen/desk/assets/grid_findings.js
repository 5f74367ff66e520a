"use strict";
/* exported Findings */
/* global deskWords, newButton, newElement, toldLines */

// What is wrong, by cell and as a list under the grid, each with its way out.
class Findings {
  static MOST = 60; // in the list; the rest is counted

  constructor(words, names) {
    this.words = words;
    this.names = names;
    this.take([], []);
  }

  take(findings, misfits) {
    this.misfits = misfits;
    const tags = misfits.map((each) => ({
      ...each,
      cell: each.cell || "name",
      first: `tag ${each.first}`,
    }));
    this.all = [...findings, ...tags];
    this.byRow = new Map();
    for (const each of this.all) {
      const key = `${each.section}/${each.row}`;
      this.byRow.set(key, [...(this.byRow.get(key) ?? []), each]);
    }
  }

  ofRow(section, row) {
    return this.byRow.get(`${section}/${row}`) ?? [];
  }

  // What stands at a cell; a finding of a column that is not shown stands at the row's name.
  ofCell(section, row, key, shown) {
    return this.ofRow(section, row).filter(
      (each) => (shown.includes(each.cell) ? each.cell : "name") === key,
    );
  }

  count(section) {
    return this.all.filter((each) => each.section === section && each.verdict !== "note").length;
  }

  // Those that are alike together, the worst first: errors, what is open, warnings, notes.
  inOrder(findings) {
    const order = ["error", "open", "warning", "note"];
    const alike = new Map();
    for (const each of findings) {
      if (alike.has(each.first)) alike.get(each.first).push(each);
      else alike.set(each.first, [each]);
    }
    return [...alike.values()].sort(
      ([one], [two]) => order.indexOf(one.verdict) - order.indexOf(two.verdict),
    );
  }

  // `empty` are the parts of a job under which nothing is listed yet.
  fillList(box, actions, empty) {
    const had = Findings.focusIn(box);
    this.renewList(box, actions, empty);
    if (had) Findings.focusAgain(box, had);
  }

  // What has the keys, by what it says, for it is drawn anew.
  static focusIn(box) {
    const { activeElement: now } = document;
    if (!box.contains(now)) return null;
    const item = now.closest("li");
    const number = [...box.querySelectorAll("li")].indexOf(item);
    const button = now.matches("button") ? now.textContent : "";
    return { number, said: item?.textContent, button };
  }

  // The same again; where it is gone, the item that is now in its place, and none of its buttons:
  // nobody has read it yet.
  static focusAgain(box, { number, said, button }) {
    const items = [...box.querySelectorAll("li")];
    const same = items.find((item) => item.textContent === said);
    const again = [...(same?.querySelectorAll("button") ?? [])].find(
      (each) => each.textContent === button,
    );
    const next = again ?? same ?? items[Math.min(number, items.length - 1)] ?? box;
    if (next !== again) next.tabIndex = -1;
    next.focus();
  }

  renewList(box, actions, empty) {
    box.replaceChildren();
    if (!this.all.length && !empty.length) {
      box.append(newElement("p", this.words["nothing wrong"]));
      return;
    }
    const list = newElement("ul", "", { class: "findings" });
    const isOpen = (each) => each.ways.some((way) => way.do === "wires");
    const open = this.all.filter(isOpen);
    const others = this.inOrder(this.all.filter((each) => !isOpen(each)));
    const errors = others.filter(([each]) => each.verdict === "error").length;
    const items = others.slice(0, Findings.MOST).map((each) => this.item(each, actions));
    if (open.length) items.splice(errors, 0, this.openItem(open, actions));
    const lacking = this.lacking();
    if (lacking.length > 1) items.unshift(this.lackingItem(lacking, actions));
    if (empty.length) items.push(this.emptyItem(empty, actions));
    list.append(...items);
    box.append(list);
    const more = others.length - Findings.MOST;
    if (more > 0) {
      box.append(newElement("p", deskWords.fill(this.words["and more"], { count: more })));
    }
  }

  // All boxes that are named and not described, each once.
  lacking() {
    return this.waysOf(this.all, "add");
  }

  waysOf(findings, what) {
    const ways = findings.flatMap((each) => each.ways).filter((way) => way.do === what);
    return [...new Map(ways.map((way) => [way.name, way])).values()];
  }

  lackingItem(lacking, actions) {
    const item = newElement("li", "", { class: "open" });
    const names = lacking.map((way) => way.name).join(", ");
    const label = deskWords.fill(this.words["add boxes"], { count: lacking.length });
    item.append(newElement("span", names, { class: "names" }));
    item.append(newButton(label, () => actions.add(lacking)));
    return item;
  }

  emptyItem(empty, actions) {
    const item = newElement("li", "", { class: "open" });
    item.append(newElement("b", this.words["nothing listed"]));
    for (const [part, title] of empty) item.append(newButton(title, () => actions.open(part)));
    return item;
  }

  // Stations without a wire are one thing to do, not many.
  openItem(open, actions) {
    const item = newElement("li", "", { class: "open" });
    const names = open.map((each) => each.row).join(", ");
    item.append(
      newElement("b", deskWords.fill(this.words["without wire"], { count: open.length })),
    );
    item.append(newElement("span", names, { class: "names" }));
    item.append(newButton(this.words["choose wires"], actions.wires));
    return item;
  }

  // `others` say the same of something else: each is a button that leads there.
  item([finding, ...others], actions) {
    const item = newElement("li", "", { class: finding.verdict });
    const where = [this.names[finding.section] ?? finding.section, finding.row].filter(Boolean);
    item.append(newElement("b", this.words[finding.verdict], { class: "verdict-word" }));
    const isField = finding.section in this.names && !finding.row;
    if (isField || (finding.row && this.names[finding.section])) {
      item.append(newButton(where.join(" "), () => actions.goTo(finding)));
    } else {
      item.append(newElement("span", [...where, finding.cell].filter(Boolean).join(" ")));
    }
    item.append(...toldLines(finding, this.words));
    if (others.length) item.append(this.othersOf(others, actions));
    for (const way of finding.ways.filter((each) => each.do === "add" && !others.length)) {
      const label = deskWords.fill(this.words["add box"], way);
      item.append(newButton(label, () => actions.add([way])));
    }
    const known = this.waysOf([finding, ...others], "known");
    if (known.length) item.append(newButton(this.words["is known"], () => actions.add(known)));
    return item;
  }

  othersOf(others, actions) {
    const line = newElement("span", "", { class: "others" });
    line.append(newElement("b", this.words["the same for"]));
    for (const each of others.slice(0, Findings.MOST)) {
      const where = each.row || (this.names[each.section] ?? each.section);
      const said = [...new Set([where, each.name])].filter(Boolean).join(": ");
      const button = newButton(said, () => actions.goTo(each));
      line.append(button);
    }
    const more = others.length - Findings.MOST;
    if (more > 0) line.append(deskWords.fill(this.words["and more"], { count: more }));
    return line;
  }
}
