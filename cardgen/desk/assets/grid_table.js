"use strict";
/* exported GridTable */
/* global CellEditor, HeldKeys, Tabulator, deskWords, newElement, pasteColumns, pastedRows */

// One section of the job as a grid: typing, keys, blocks from a spreadsheet, new rows at the end.
class GridTable {
  static BLANK = 8; // rows that wait at the end
  static NARROWEST = 84; // px
  static LETTER = 11; // px, of a heading, so that none of its words is broken

  constructor(desk, section) {
    this.desk = desk;
    this.section = section;
    this.columns = desk.grids[section];
    this.keys = this.shownKeys();
    this.box = document.getElementById("grid");
    this.editing = null;
    this.isBuilt = false;
    this.held = new HeldKeys(desk);
    this.ready = new Promise((done) => this.make(done));
  }

  make(done) {
    const host = newElement("div", "", { class: "grid-host" });
    this.box.replaceChildren(host);
    this.table = new Tabulator(host, {
      index: "uid",
      data: this.withBlanks(),
      columns: this.columns.map((column) => this.column(column)),
      layout: "fitColumns",
      height: this.height(),
      selectableRange: 1,
      selectableRangeAutoFocus: false,
      editTriggerEvent: "dblclick",
      keybindings: { navPrev: false, navNext: false }, // Tab leaves the grid
      clipboard: "copy",
      clipboardCopyStyled: false,
      clipboardCopyRowRange: "range",
      clipboardCopyConfig: { columnHeaders: false, rowHeaders: false },
      columnDefaults: { resizable: "header" },
    });
    this.table.on("tableBuilt", () => {
      this.describe(host);
      this.isBuilt = true;
      this.showColumns();
      done();
    });
    this.table.on("cellEditing", (cell) => (this.editing = cell));
    this.table.on("cellEditCancelled", () => this.left());
    this.table.on("cellEdited", (cell) => this.edited(cell));
    this.table.on("rangeChanged", () => this.chosen());
    host.addEventListener("keydown", (event) => this.key(event), true);
    host.addEventListener("paste", (event) => this.paste(event), true);
    this.held.listen(host);
  }

  height() {
    return Math.max(260, window.innerHeight - 360);
  }

  // What a reader of the screen hears: a grid, in it the group of rows that takes the keys.
  describe(host) {
    host.setAttribute("aria-label", this.desk.tabs.name(this.section));
    host.querySelector(".tabulator-tableholder").setAttribute("role", "rowgroup");
    host.querySelector(".tabulator-table").setAttribute("role", "presentation");
  }

  // A column that few jobs need is shown if this job has it, or on demand.
  shownKeys() {
    const isUsed = (key) => this.desk.rows[this.section].some((row) => row[key] !== "");
    const isShown = ({ key, rare }) => !rare || this.desk.whole.has(this.section) || isUsed(key);
    return this.columns.filter(isShown).map(({ key }) => key);
  }

  showColumns() {
    const shown = this.shownKeys();
    for (const key of shown.filter((each) => !this.keys.includes(each))) this.table.showColumn(key);
    this.keys = shown;
    document.getElementById("more-columns").hidden = shown.length === this.columns.length;
  }

  showAll() {
    this.desk.whole.add(this.section);
    this.showColumns();
    this.box.querySelector(".tabulator-tableholder").focus(); // the button is gone
  }

  column(column) {
    const { key, fixed } = column;
    const title = this.desk.title(this.section, key);
    const longest = Math.max(...title.split(" ").map((word) => word.length));
    return {
      title,
      minWidth: Math.max(GridTable.NARROWEST, longest * GridTable.LETTER),
      field: key,
      visible: this.keys.includes(key),
      widthGrow: key === "name" ? 1 : (GridTable.GROW[key] ?? 2),
      editable: (cell) => cell.getValue() !== null && !(fixed && cell.getData().id),
      editor: (cell, rendered, success, cancel) =>
        CellEditor.input(this, cell, column, rendered, success, cancel),
      formatter: (cell) => this.shown(cell),
    };
  }

  // ---- what a cell shows ----

  shown(cell) {
    const found = this.found(cell);
    const box = newElement("span", cell.getValue() ?? this.desk.words["in the file"]);
    const worst = ["error", "open", "warning"].find((each) =>
      found.some(({ verdict }) => verdict === each),
    );
    cell.getElement().className = cell.getElement().className.replace(/ ?\bhas-\w+/g, "");
    if (cell.getValue() === null) box.className = "locked";
    if (!worst) return box;
    cell.getElement().classList.add(`has-${worst}`);
    if (worst === "open" && !cell.getValue()) box.textContent = this.desk.words["no wire yet"];
    return box;
  }

  // ---- keys ----

  key(event) {
    if (this.editing || event.ctrlKey || event.metaKey || event.altKey) return;
    if (this.held.takes(event)) return;
    const cell = this.active();
    if (!cell) return;
    if (event.key === "Delete" || event.key === "Backspace") {
      event.preventDefault();
      this.setRange("");
    } else if (event.key.length === 1 && event.key !== " ") {
      event.preventDefault();
      this.first = event.key;
      cell.edit();
    } else if (event.key === "F2") {
      event.preventDefault();
      cell.edit();
    }
  }

  active() {
    return this.table.getRanges()[0]?.getCells()[0]?.[0] ?? null;
  }

  move(cell, down, right) {
    const rows = this.table.getRows();
    const at = rows.findIndex((row) => row.getData().uid === cell.getData().uid) + down;
    const key = this.keys[this.keys.indexOf(cell.getField()) + right];
    const next = rows[at];
    if (!next || !key) return;
    this.choose(next.getCell(key));
  }

  choose(cell) {
    this.table.getRanges()[0]?.setBounds(cell, cell);
    cell.getElement().scrollIntoView({ block: "nearest", inline: "nearest" });
    this.box.querySelector(".tabulator-tableholder").focus({ preventScroll: true });
    this.chosen();
  }

  async goTo(id, key) {
    await this.ready;
    const row = this.table.getRows().find((each) => each.getData().id === id);
    if (!row) return;
    await this.table.scrollToRow(row, "center", false);
    this.choose(row.getCell(this.keys.includes(key) ? key : "name"));
  }

  chosen() {
    const row = this.active()?.getData();
    if (row) this.desk.chosen(this.section, row);
    this.say();
  }

  // Under the grid stands what is in the cell, for it may be cut there, and what is wrong with it.
  say() {
    const box = document.getElementById("cell-said");
    const cell = this.active();
    box.replaceChildren();
    if (!cell?.getData().id) return;
    const row = this.desk.rowName(this.section, cell.getData().id);
    const where = `${row} ${cell.getColumn().getDefinition().title}`;
    box.append(newElement("span", `${where}: ${cell.getElement().textContent}`));
    for (const each of this.found(cell)) {
      const said = `${deskWords.sentence(each.sentence)} ${deskWords.sentence(each.help)}`;
      box.append(newElement("b", ` ${said}`, { lang: each.lang }));
    }
  }

  found(cell) {
    const { id } = cell.getData();
    return id ? this.desk.findings.ofCell(this.section, id, cell.getField(), this.keys) : [];
  }

  // ---- changes ----

  left() {
    this.editing = null;
    this.desk.preview.typingLeft();
    this.desk.flush();
  }

  edited(cell) {
    this.editing = null;
    this.desk.preview.typingEnded();
    this.desk.waiting.add(this.section, cell.getData().uid, cell.getField(), cell.getValue());
    this.desk.flush();
  }

  setRange(text) {
    for (const line of this.table.getRanges()[0]?.getCells() ?? []) {
      for (const cell of line) {
        if (cell.getValue() !== null && cell.getField() !== "name") {
          this.set(cell.getRow(), cell.getField(), text);
        }
      }
    }
    this.desk.flush();
  }

  set(row, key, text) {
    if (row.getData()[key] === text || row.getData()[key] === null) return;
    row.update({ [key]: text });
    this.desk.waiting.add(this.section, row.getData().uid, key, text);
  }

  selectedIds() {
    const rows = this.table.getRanges()[0]?.getRows() ?? [];
    return rows.map((row) => row.getData().id).filter(Boolean);
  }

  async paste(event) {
    const text = event.clipboardData.getData("text/plain");
    const cell = this.active();
    if (!cell || !text || (this.editing && !/[\t\n]/.test(text)) || this.held.refuse(event)) return;
    event.preventDefault();
    event.stopPropagation();
    const { keys, rows } = pasteColumns(
      pastedRows(text),
      this.keys,
      cell.getField(),
      this.desk.titles(this.section),
    );
    const from = this.table.getRows().findIndex((row) => row.getData().uid === cell.getData().uid);
    const lacking = from + rows.length - this.table.getRows().length;
    if (lacking > 0) await this.table.addData(this.desk.marks.blanks(this.section, lacking));
    const lines = this.table.getRows().slice(from);
    rows.forEach((texts, number) => {
      texts.forEach((each, at) => keys[at] && this.set(lines[number], keys[at], each));
    });
    this.desk.flush();
  }

  // ---- what the file has ----

  withBlanks() {
    return [
      ...this.desk.rows[this.section],
      ...this.desk.marks.blanks(this.section, GridTable.BLANK),
    ];
  }

  // The rows as they are after a change: in place if they are the same, for one goes on typing.
  async refill() {
    await this.ready;
    this.showColumns();
    const lines = this.table.getRows(); // asked for once: it goes through all of them
    const shown = lines.map((row) => row.getData());
    const filled = this.desk.rows[this.section];
    const isSame = filled.every((row, number) => shown[number]?.uid === row.uid);
    const blank = shown.slice(filled.length);
    if (!isSame || blank.some((row) => row.id)) {
      const cell = this.active();
      await this.table.replaceData(this.withBlanks());
      if (cell && this.table.getRow(cell.getData().uid)) this.chooseAgain(cell);
      return;
    }
    filled.forEach((row, number) => this.renew(lines[number], row));
    const lacking = GridTable.BLANK - blank.length;
    if (lacking > 0) await this.table.addData(this.desk.marks.blanks(this.section, lacking));
  }

  chooseAgain(cell) {
    const again = this.table.getRow(cell.getData().uid).getCell(cell.getField());
    this.table.getRanges()[0]?.setBounds(again, again);
  }

  renew(row, data) {
    const busy = this.editing?.getData().uid === data.uid ? this.editing.getField() : "";
    const shown = row.getData();
    const changed = Object.entries(data).filter(
      ([key, text]) => key !== busy && shown[key] !== text,
    );
    if (changed.length) row.update(Object.fromEntries(changed));
  }

  mark() {
    if (!this.isBuilt) return; // its cells are marked as they are made
    for (const row of this.table.getRows("visible")) {
      if (this.editing?.getData().uid !== row.getData().uid) row.reformat();
    }
    if (!this.editing) this.say();
  }
}

GridTable.GROW = {
  ...{ area: 4, box: 1.3, hot: 2.6, coil: 1.2, notes: 2 },
  ...{ joints: 9, valves: 1.6, conductors: 3, conductor: 3, "in common": 3, return: 2.6 },
  ...{ run: 5, ties: 4, place: 3, terminals: 3, takes: 5, colors: 4 },
  ...{ flags: 4, text: 6, extra: 4, jumpers: 2.6 },
};
