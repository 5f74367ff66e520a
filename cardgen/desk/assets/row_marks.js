"use strict";
/* exported RowMarks */

// Each row keeps one mark as long as the page is open, whatever it is called.
class RowMarks {
  constructor(page) {
    this.page = page;
    this.uid = 0;
  }

  // The rows of an answer with the marks that they have here; new ones get theirs in order.
  known(section, rows) {
    const sent = this.page.sent?.section === section ? this.page.sent : {};
    const { fresh = [], rows: added = [], removed = [] } = sent;
    const kept = (this.page.rows[section] ?? []).filter((row) => !removed.includes(row.id));
    const ids = this.isNumbered(section) ? RowMarks.numbers(kept) : kept.map((row) => row.id);
    const before = new Map(kept.map((row, number) => [ids[number], row.uid]));
    const marks = fresh.map((uid, number) => ({ uid, name: added[number]?.name }));
    const next = ({ name }) => {
      const same = marks.findIndex((mark) => mark.name === name); // of several lists its own
      return marks.splice(Math.max(0, same), 1)[0]?.uid ?? (this.uid += 1);
    };
    return rows.map((row) => {
      const id = row.id ?? row.name;
      const uid = before.get(id) ?? next(row);
      return { ...row, id, uid, ...this.page.waiting.of(section, uid) };
    });
  }

  // Rows of a list have no names: the desk counts them, from 1 in each list.
  isNumbered(section) {
    return Boolean(this.page.grids[section]?.[0].numbered);
  }

  // What they are called after some were removed.
  static numbers(rows) {
    const counts = new Map();
    return rows.map(({ id }) => {
      const list = id.replace(/\d+$/, "");
      counts.set(list, (counts.get(list) ?? 0) + 1);
      return `${list}${counts.get(list)}`;
    });
  }

  blanks(section, count) {
    const keys = this.page.grids[section].map(({ key }) => [key, ""]);
    return Array.from({ length: count }, () => ({
      ...Object.fromEntries(keys),
      id: "",
      uid: (this.uid += 1),
    }));
  }
}
