"use strict";
// What was entered and is not acknowledged yet, in the phone's own database: it outlives the page.
//
// An entry is {id, at, action, fields, crew, photo, refused}: under which mark and when it was
// entered, to which address its fields go, which crew was logged in, and what the server found
// wrong with it. The server stores one mark once, so neither a lost answer nor a second tab makes
// two entries of one.

/* exported EntryQueue, newMark, minuteOf */

class EntryQueue {
  constructor() {
    this.database = new Promise((resolve, reject) => {
      const request = indexedDB.open("cardgen", 1);
      request.onupgradeneeded = () =>
        request.result.createObjectStore("entries", { keyPath: "id" });
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
      request.onblocked = reject;
    });
  }

  // One transaction; done when it is on the phone's disk.
  async run(mode, work) {
    const database = await this.database;
    return new Promise((resolve, reject) => {
      const transaction = database.transaction("entries", mode);
      const request = work(transaction.objectStore("entries"));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
    });
  }

  // Puts an entry in, or in the place of the one with its mark.
  keep(entry) {
    return this.run("readwrite", (entries) => entries.put(entry));
  }

  drop(mark) {
    return this.run("readwrite", (entries) => entries.delete(mark));
  }

  // In the order in which they were entered.
  async all() {
    const found = await this.run("readonly", (entries) => entries.getAll());
    return found.sort((one, other) => one.at - other.at);
  }

  // Whether the same was entered just now and still waits: a finger that lost patience.
  async hasLike(entry) {
    const JUST_NOW = 2 * 60 * 1000; // milliseconds; our choice
    const names = ["valve", "box", "kind", "from", "to", "in_box", "value", "notes", "day"];
    const said = ({ fields }) => JSON.stringify(names.map((name) => fields[name]));
    const others = await this.waiting();
    return others.some((other) => said(other) === said(entry) && entry.at - other.at < JUST_NOW);
  }

  async waiting() {
    return (await this.all()).filter((entry) => !entry.refused);
  }
}

// A UUID of version 4 (RFC 9562, 5.4); without https a browser has no function for it.
function newMark() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const digits = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return digits.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// By the clock on the wall, with its distance from UTC, by which a server knows a wrong clock:
// 2026-06-01T09:30-07:00.
function minuteOf(date) {
  const two = (number) => String(number).padStart(2, "0");
  const day = [date.getFullYear(), two(date.getMonth() + 1), two(date.getDate())].join("-");
  const ahead = -date.getTimezoneOffset(); // minutes
  const zone = [Math.trunc(Math.abs(ahead) / 60), Math.abs(ahead) % 60].map(two).join(":");
  const sign = ahead < 0 ? "-" : "+";
  return `${day}T${two(date.getHours())}:${two(date.getMinutes())}${sign}${zone}`;
}
