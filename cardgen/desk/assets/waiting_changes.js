"use strict";
/* exported WaitingChanges */

// What was typed and is not in the file yet, by section and by the mark of its row.
class WaitingChanges {
  constructor(page) {
    this.page = page;
    this.changed = new Map();
    this.alone = false; // the next names without what mentions them
  }

  get some() {
    return this.changed.size > 0 || this.page.fields.typed.size > 0;
  }

  of(section, uid) {
    return this.changed.get(section)?.get(uid);
  }

  clear() {
    this.changed.clear();
    this.page.fields.typed.clear();
  }

  add(section, uid, key, text) {
    const rows = this.changed.get(section) ?? new Map();
    rows.set(uid, { ...rows.get(uid), [key]: text });
    this.changed.set(section, rows);
  }

  // What waits to be written, of one section at a time.
  next() {
    const [section, rows] = this.changed.entries().next().value ?? [];
    if (!section) {
      return this.page.fields.next();
    }
    this.changed.delete(section);
    const cells = [];
    const fresh = [];
    const added = [];
    for (const [uid, texts] of [...rows].sort(([one], [two]) => one - two)) {
      const row = this.page.rows[section].find((each) => each.uid === uid);
      if (row) {
        for (const [key, text] of Object.entries(texts)) cells.push([row.id, key, text]);
      } else if (Object.values(texts).some((text) => text)) {
        added.push(texts);
        fresh.push(uid);
      }
    }
    const { alone } = this;
    this.alone = false;
    return { section, cells, rows: added, fresh, alone };
  }

  // What was not written waits again, under what has been typed since.
  restore({ section, cells = [], rows = [], fresh = [] }) {
    if (!(section in this.page.grids)) return this.page.fields.restore(section, cells);
    const put = (uid, texts) => {
      const newer = this.of(section, uid);
      for (const [key, text] of Object.entries({ ...texts, ...newer })) {
        this.add(section, uid, key, text);
      }
    };
    for (const [id, key, text] of cells) {
      const row = this.page.rows[section].find((each) => each.id === id);
      if (row) put(row.uid, { [key]: text });
    }
    fresh.forEach((uid, number) => put(uid, rows[number]));
    return undefined;
  }
}
