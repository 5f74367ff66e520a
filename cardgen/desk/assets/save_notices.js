"use strict";
/* exported SaveNotices */
/* global deskCalls, deskWords, newButton, newElement */

// What a person is told when something could not be saved, and what can be done then.
class SaveNotices {
  constructor(page) {
    this.page = page;
    this.kind = "";
  }

  // The desk does not answer: it is tried again.
  get isLost() {
    return this.kind === "lost";
  }

  // Others have changed the file: somebody must say what is to be done.
  get isConflict() {
    return this.kind === "changed";
  }

  // All that waited is written.
  found() {
    if (this.kind) this.show("");
  }

  show(text, ...buttons) {
    const box = document.getElementById("notice");
    this.kind = "";
    box.replaceChildren(newElement("p", text), ...buttons);
    box.hidden = !text;
  }

  // What one reads and goes on: the next change that is written takes it away.
  passing(text, ...buttons) {
    const { fine } = this.page.words;
    this.show(
      text,
      newButton(fine, () => this.show("")),
      ...buttons,
    );
    this.kind = "passing";
  }

  // What was changed with a name, and the way back to the name alone.
  renamed(names, { mentions, left }, again) {
    const { words } = this.page;
    const pairs = names.map(([id, , text]) => `${id} → ${text}`).join(", ");
    const lines = [deskWords.fill(words["names changed"], { name: pairs, count: mentions })];
    const places = left.map(([section, row, key]) =>
      [this.page.names[section] ?? section, row, this.page.columns[key] ?? key]
        .filter(Boolean)
        .join(" "),
    );
    if (left.length) lines.push(deskWords.fill(words["names left"], { name: places.join(", ") }));
    const alone = newButton(words["name alone"], () => {
      this.show("");
      again();
    });
    this.passing(lines.join(" "), alone);
  }

  // Nothing that was typed is lost: it waits until it can be written or somebody lets it go.
  refused(told) {
    const { words } = this.page;
    const said = `${deskWords.sentence(told.sentence)} ${deskWords.sentence(told.help)}`;
    const theirs = newButton(words["take theirs"], async () => {
      await this.page.reload();
      this.show("");
    });
    const alone = newButton(words["name alone"], () => {
      this.page.waiting.alone = true;
      this.show("");
      this.page.flush();
    });
    this.page.saved(words["not saved"]);
    if (told.kind === "lost") this.show(words["lost server"]);
    else if (told.kind === "name") this.show(said, theirs, alone);
    else if (told.kind !== "changed") this.show(said, theirs);
    else {
      const keep = newButton(words["keep mine"], () => this.keep());
      this.show(deskWords.sentence(told.sentence), theirs, keep);
    }
    this.kind = told.kind;
  }

  // All that waits goes into a new file beside it.
  async keep() {
    const parts = [];
    for (let part = this.page.waiting.next(); part; part = this.page.waiting.next()) {
      parts.push(part);
    }
    const sent = { parts, version: this.page.version };
    const told = await deskCalls.post(`${this.page.address}/copy`, sent);
    if (!told.ok) {
      parts.forEach((part) => this.page.waiting.restore(part));
      this.refused({ ...told, kind: "changed" });
      return;
    }
    await this.page.reload();
    const to = `/jobs/${encodeURIComponent(told.name)}`;
    const link = newElement("a", told.name, { href: to, class: "go" });
    this.show(deskWords.fill(this.page.words["copy kept"], told), link);
  }
}
