"use strict";
/* global Findings, GridTable, JobFields, PartTabs, RowMarks, SaveNotices, TagPreview, WaitingChanges, WireProposals, deskCalls, deskWords */

// The page of a job: what was typed goes to the file at once, what is wrong comes back to its cell.
class JobPage {
  static POLL = 3000; // ms between looks at the file
  static WITH_TAGS = ["stations", "boxes", "master valves", "relays"];
  static LARGE = 400; // stations; beyond it a tag takes the machine a second

  constructor(box) {
    this.address = box.dataset.address;
    this.grids = JSON.parse(box.dataset.grids);
    this.columns = JSON.parse(box.dataset.columns);
    this.names = JSON.parse(box.dataset.names);
    this.tabs = new PartTabs(this);
    for (const { dataset } of document.querySelectorAll("#form-panel input")) {
      this.names[dataset.section] = this.tabs.name("job");
    }
    this.words = JSON.parse(box.dataset.words);
    this.findings = new Findings(this.words, this.names);
    this.preview = new TagPreview(this.words, this.names, this.address);
    this.wires = new WireProposals(this.words, this.address, (pairs) => this.accept(pairs));
    this.fields = new JobFields(this);
    this.notices = new SaveNotices(this);
    this.rows = {};
    this.marks = new RowMarks(this);
    this.whole = new Set(); // parts with all their columns
    this.waiting = new WaitingChanges(this);
    this.part = "stations";
    this.busy = false;
    this.steps = 0; // back and forward, under way
  }

  // ---- what the file has ----

  async start() {
    this.listen();
    const told = await deskCalls.get(`${this.address}/data`);
    if (!told.ok) {
      return this.notices.show(deskWords.sentence(told.sentence) || this.words["lost server"]);
    }
    this.take(told);
    const [part, row] = decodeURIComponent(location.hash.slice(1)).split("/");
    this.open(part in this.grids || part === "job" ? part : "stations");
    for (const button of document.querySelectorAll("#job button:disabled")) button.disabled = false;
    if (row) this.grid?.goTo(row, "name");
    this.judge();
    setInterval(() => this.look(), JobPage.POLL);
    return undefined;
  }

  take(told) {
    this.version = told.version;
    for (const [section, rows] of Object.entries(told.rows)) {
      this.rows[section] = this.marks.known(section, rows);
    }
    this.tabs.show();
    this.preview.isLarge = this.rows.stations.length > JobPage.LARGE;
    document.getElementById("undo").disabled = !told.back;
    document.getElementById("redo").disabled = !told.forward;
    this.fields.fill(told);
  }

  title(section, key) {
    const [first] = this.grids[section];
    if (key === "name" && !first.title) return this.names[section];
    return this.columns[key === "name" ? first.title : key];
  }

  // `A7`, or `Change 2` where a number alone says little.
  rowName(section, id) {
    return this.marks.isNumbered(section) ? `${this.names[section]} ${id}` : id;
  }

  // ---- parts ----

  open(part) {
    this.part = part;
    if (this.fields.isFaulty) return undefined;
    this.tabs.choose(part);
    document.getElementById("form-panel").hidden = part !== "job";
    document.getElementById("grid-panel").hidden = part === "job";
    document.getElementById("choose-wires").hidden = part !== "stations";
    this.grid = part === "job" ? null : new GridTable(this, part);
    return this.grid?.ready;
  }

  // Names of columns in a pasted block, as they stand here or in the file.
  titles(section) {
    const pairs = this.grids[section].flatMap(({ key }) => {
      return [
        [this.title(section, key).toLowerCase(), key],
        [key, key],
      ];
    });
    return Object.fromEntries(pairs);
  }

  async goTo({ section, row, cell }) {
    if (section in this.grids && section !== this.part) await this.open(section);
    if (!(section in this.grids)) {
      this.open("job");
      return this.fields.goTo(section, cell);
    }
    return this.grid.goTo(row, cell);
  }

  // ---- changes ----

  typing(section, row, key, text) {
    if (section !== "stations" || !row.id) return;
    this.preview.typing(row.id, { section, cells: [[row.id, key, text]] });
  }

  chosen(section, row) {
    if (row.uid === this.chosenUid && row.id === this.preview.now) return;
    this.chosenUid = row.uid;
    if (JobPage.WITH_TAGS.includes(section) && row.id) this.preview.show(row.id);
  }

  accept(pairs) {
    const wanted = new Map(pairs);
    for (const row of this.rows.stations.filter((each) => wanted.has(each.id))) {
      this.waiting.add("stations", row.uid, "hot", wanted.get(row.id));
    }
    this.flush();
  }

  // Nothing goes out while one types, or while others' changes wait for a decision.
  async flush() {
    if (this.busy || this.notices.isConflict || this.grid?.editing) return;
    const sent = this.waiting.next();
    if (sent) await this.send("edit", sent);
  }

  // A button pressed while something is on its way to the file.
  async press(what, sent) {
    await this.idle();
    await this.send(what, sent);
  }

  async idle() {
    while (this.busy) await new Promise((done) => setTimeout(done, 50));
  }

  // What was typed before a step is written first; while it is under way the grid takes nothing.
  async step(what) {
    this.steps += 1;
    await this.idle();
    await this.flush();
    if (!this.waiting.some) await this.press(what, {});
    this.steps -= 1;
  }

  // A row may be another after a step: its number, or its name, is that of another then.
  get isStepping() {
    return this.steps > 0;
  }

  async send(what, sent) {
    this.busy = true;
    this.saved(this.words.saving);
    const told = await deskCalls.post(`${this.address}/${what}`, {
      ...sent,
      version: this.version,
    });
    this.busy = false;
    if (!told.ok) {
      this.waiting.restore(sent);
      return this.notices.refused(told);
    }
    this.notices.found();
    this.renamed(sent, told);
    this.sent = sent;
    this.take(told);
    this.sent = null;
    this.saved(this.words.saved);
    await this.grid?.refill();
    this.judge();
    return this.flush();
  }

  // A row keeps its mark under a new name; what mentions it has been changed with it.
  renamed({ section, cells = [], ...sent }, told) {
    if (this.marks.isNumbered(section)) return;
    const names = cells.filter(([id, key, text]) => key === "name" && text !== id);
    const own = Object.fromEntries(names.map(([id, , text]) => [id, text]));
    for (const [part, changed] of Object.entries({ [section]: own, ...told.names })) {
      for (const row of this.rows[part] ?? []) row.id = changed[row.id] ?? row.id;
    }
    const again = () => this.alone({ section, cells, ...sent }, names, told.version);
    const isMore = names.length > 0 && (told.mentions || told.left.length);
    if (isMore) this.notices.renamed(names, told, again);
  }

  // The name alone: back, and once more without what mentions it.  What was written since stays.
  async alone(sent, names, version) {
    this.steps += 1;
    await this.idle();
    if (this.version === version) {
      await this.send("undo", {});
      await this.send("edit", { ...sent, alone: true });
    } else {
      const part = { section: sent.section, fresh: [] };
      await this.send("edit", { ...part, cells: names.map(([id, key, text]) => [text, key, id]) });
      await this.send("edit", { ...part, cells: names, alone: true });
    }
    this.steps -= 1;
  }

  saved(text) {
    document.getElementById("saved").textContent = text;
  }

  // ---- what is wrong ----

  async judge() {
    const told = await deskCalls.get(`${this.address}/findings`);
    if (!told.ok || told.version !== this.version) return;
    this.findings.take(told.findings, this.findings.misfits);
    this.showFindings();
    const query = new URLSearchParams(this.preview.choices);
    const tags = await deskCalls.get(`${this.address}/misfits?${query}`);
    // Both of one text: it may have changed between the two answers.
    if (!tags.ok || tags.version !== told.version || told.version !== this.version) return;
    if (JSON.stringify(tags.misfits) !== JSON.stringify(this.findings.misfits)) {
      this.findings.take(told.findings, tags.misfits);
      this.showFindings();
    }
    this.preview.again();
    document.body.dataset.judged = this.version; // what is shown is of this text
  }

  showFindings() {
    const actions = {
      wires: () => this.wires.ask(),
      goTo: (finding) => this.goTo(finding),
      add: (ways) => this.add(ways),
      open: (part) => this.open(part),
    };
    const needed = ["stations", "boxes", "cables", "controllers"];
    const empty = needed.filter((part) => !this.rows[part].length);
    const titled = empty.map((part) => [part, this.tabs.name(part)]);
    this.findings.fillList(document.getElementById("findings"), actions, titled);
    this.tabs.count(this.findings);
    this.grid?.mark();
  }

  add(ways) {
    const rows = ways.map(({ name }) => ({ name }));
    this.press("edit", { section: ways[0].section, cells: [], rows, fresh: [] });
  }

  // ---- others change the file ----

  get isOccupied() {
    return Boolean(this.busy || this.grid?.editing || this.waiting.some);
  }

  async look() {
    if (this.notices.isLost) return this.flush();
    if (this.isOccupied || document.hidden) return undefined;
    const told = await deskCalls.get(`${this.address}/version`);
    if (told.kind === "lost") return this.saved(this.words["lost server"]);
    if (!told.ok || told.version === this.version || this.isOccupied) return undefined;
    const isTaken = await this.reload(() => !this.isOccupied);
    return isTaken && this.notices.passing(this.words["changed outside"]);
  }

  // A step that is pressed meanwhile waits: its answer must not come before this one.
  async reload(isWanted = () => true) {
    await this.idle();
    this.busy = true;
    const told = await deskCalls.get(`${this.address}/data`);
    this.busy = false;
    if (!told.ok || !isWanted()) return this.flush(); // whoever typed meanwhile is told of it
    this.waiting.clear();
    this.take(told);
    await this.grid?.refill();
    this.judge();
    return true;
  }

  // ---- buttons and keys ----

  listen() {
    const press = (id, act) => document.getElementById(id).addEventListener("click", act);
    press("undo", () => this.step("undo"));
    press("redo", () => this.step("redo"));
    press("choose-wires", () => this.wires.ask());
    press("remove-rows", () => this.remove());
    press("more-columns", () => this.grid.showAll());
    this.tabs.listen();
    this.fields.listen();
    for (const choice of [this.preview.stock, this.preview.language]) {
      choice.addEventListener("change", () => this.judge());
    }
    document.addEventListener("keydown", (event) => this.key(event));
  }

  key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.target.matches("input, select")) return;
    const isZ = event.key.toLowerCase() === "z";
    const isRedo = event.key === "y" || (isZ && event.shiftKey);
    const what = isRedo ? "redo" : isZ ? "undo" : "";
    if (!what || document.getElementById(what).disabled) return;
    event.preventDefault();
    this.step(what);
  }

  remove() {
    if (this.grid?.held.isRefused()) return;
    const removed = this.grid?.selectedIds() ?? [];
    if (removed.length) this.press("edit", { section: this.part, cells: [], removed, fresh: [] });
  }
}

const jobPage = new JobPage(document.getElementById("job"));
jobPage.start();
