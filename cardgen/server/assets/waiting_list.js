"use strict";
// Show what waits on the phone, on whatever page, and send it from there.
//
// No word stands here: they are the data-* of #state, and so are the addresses of the server.

/* global EntryQueue, EntrySender */
/* exported WaitingList, addText */

function addText(tag, text, parent) {
  const element = document.createElement(tag);
  element.textContent = text;
  parent.append(element);
  return element;
}

// The valve; else the conductors, or the box of a report.
function placeOf(fields) {
  const ends = [fields.from, fields.to].filter(Boolean).join(" – ");
  return fields.valve || ends || fields.box;
}

class WaitingList {
  // `accepted` is called with the server's answer to each entry that is stored, `change` with an
  // entry and its button where that can be changed on this page.
  constructor({ accepted = () => {}, change = () => null } = {}) {
    this.texts = document.getElementById("state").dataset;
    this.box = document.getElementById("waiting");
    this.queue = new EntryQueue();
    this.sender = new EntrySender(this.queue, this.texts, accepted);
    this.change = change;
    this.again = false;
    this.sending = null;
    const halfAMinute = 30 * 1000;
    addEventListener("online", () => this.send());
    addEventListener("visibilitychange", () => document.hidden || this.send());
    setInterval(() => this.send(), halfAMinute);
  }

  // One at a time in this page, and one tab after the other: the second finds nothing left to send.
  send() {
    this.again = true;
    this.sending ??= this.sendAll().finally(() => (this.sending = null));
    return this.sending;
  }

  async sendAll() {
    while (this.again) {
      this.again = false;
      const work = async () => {
        if ((await this.queue.waiting()).length) await this.show(this.texts.sending);
        await this.show(await this.sender.send());
      };
      await (navigator.locks ? navigator.locks.request("cardgen send", work) : work());
    }
  }

  // `obstacle` is what `EntrySender.send` returns.
  async show(obstacle) {
    const entries = await this.queue.all();
    const refused = entries.filter((entry) => entry.refused);
    const waiting = entries.filter((entry) => !entry.refused);
    this.box.textContent = "";
    this.box.hidden = !entries.length;
    if (waiting.length) this.showWaiting(waiting, obstacle);
    for (const entry of refused) this.showRefused(entry);
  }

  showWaiting(entries, obstacle) {
    const { texts, box } = this;
    const text = entries.length === 1 ? texts.waitsOne : texts.waits;
    const names = entries.map((entry) => placeOf(entry.fields)).join(", ");
    addText("p", `${text.replace("#number", entries.length)} ${names}`, box).id = "count";
    if (obstacle === "login") {
      const link = addText("a", texts.login, box);
      link.className = "go";
      const back = encodeURIComponent(location.pathname + location.search);
      link.href = `${texts.loginPage}?to=${back}`;
    } else if (obstacle) {
      addText("p", obstacle, box);
    }
  }

  showRefused(entry) {
    const { texts, box } = this;
    const { fields } = entry;
    const about = [placeOf(fields), fields.value, fields.notes];
    addText("p", about.filter(Boolean).join(": "), box);
    addText("p", entry.refused, box);
    const change = this.change(entry);
    if (change) this.addButton(texts.change, change);
    this.addButton(texts.again, async () => {
      delete entry.refused;
      await this.queue.keep(entry);
      this.send();
    });
    this.addButton(texts.away, async () => {
      if (!confirm(texts.sure)) return;
      await this.queue.drop(entry.id);
      this.show();
    });
  }

  addButton(text, press) {
    const button = addText("button", text, this.box);
    button.type = "button";
    button.className = "quiet";
    button.addEventListener("click", press);
  }
}
