"use strict";
/* exported SaveNotices */
/* global deskCalls, deskWords, newButton, newElement */

// What a person is told when something could not be saved, and what can be done then.
class SaveNotices {
  constructor(page) {
    this.page = page;
  }

  // The desk answers again.
  found() {
    const isLost = document.getElementById("notice").textContent === this.page.words["lost server"];
    if (isLost) this.show("");
  }

  show(text, ...buttons) {
    const box = document.getElementById("notice");
    box.replaceChildren(newElement("p", text), ...buttons);
    box.hidden = !text;
  }

  // Nothing that was typed is lost: it stays here until somebody has said what to do with it.
  refused(told, sent) {
    this.page.saved(this.page.words["not saved"]);
    if (told.kind === "lost") return this.show(this.page.words["lost server"]);
    const reload = newButton(this.page.words["take theirs"], async () => {
      await this.page.reload();
      this.show("");
    });
    if (told.kind !== "changed") {
      return this.show(
        `${deskWords.sentence(told.sentence)} ${deskWords.sentence(told.help)}`,
        reload,
      );
    }
    const keep = newButton(this.page.words["keep mine"], () => this.keep(sent));
    return this.show(deskWords.sentence(told.sentence), reload, keep);
  }

  async keep(sent) {
    const told = await deskCalls.post(`${this.page.address}/copy`, {
      ...sent,
      version: this.page.version,
    });
    if (!told.ok) {
      return this.show(`${deskWords.sentence(told.sentence)} ${deskWords.sentence(told.help)}`);
    }
    await this.page.reload();
    const to = `/jobs/${encodeURIComponent(told.name)}`;
    const link = newElement("a", told.name, { href: to, class: "go" });
    return this.show(deskWords.fill(this.page.words["copy kept"], told), link);
  }
}
