"use strict";
/* exported PartTabs */

// The parts of a job, each a tab; what most jobs have none of is shown if this one has, or on demand.
class PartTabs {
  constructor(page) {
    this.page = page;
    this.isWhole = false;
    this.more = document.getElementById("more-parts");
  }

  get all() {
    return [...document.querySelectorAll("[data-part]")];
  }

  get rare() {
    return this.all.filter((tab) => "rare" in tab.dataset);
  }

  name(part) {
    return document.querySelector(`[data-part="${part}"] span`).textContent;
  }

  listen() {
    this.more.addEventListener("click", () => this.showAll());
    for (const tab of this.all) {
      tab.addEventListener("click", () => this.page.open(tab.dataset.part));
      tab.addEventListener("keydown", (event) => this.next(event));
    }
  }

  // As the rows are now; the part that is open stays.
  show() {
    for (const tab of this.rare) {
      const { part } = tab.dataset;
      tab.hidden = !(this.isWhole || part === this.page.part || this.page.rows[part]?.length);
    }
    this.more.hidden = !this.rare.some((tab) => tab.hidden);
  }

  showAll() {
    const first = this.rare.find((tab) => tab.hidden);
    this.isWhole = true;
    this.page.open(first.dataset.part);
    first.focus(); // the button is gone
  }

  choose(part) {
    this.show();
    for (const tab of this.all) {
      const isOpen = tab.dataset.part === part;
      tab.setAttribute("aria-selected", String(isOpen));
      tab.tabIndex = isOpen ? 0 : -1;
      if (isOpen) document.getElementById("grid-panel").setAttribute("aria-labelledby", tab.id);
    }
  }

  next(event) {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (!step) return;
    const tabs = this.all.filter((tab) => !tab.hidden);
    const next = tabs[(tabs.indexOf(event.target) + step + tabs.length) % tabs.length];
    this.page.open(next.dataset.part);
    next.focus();
  }

  // How much is wrong in each part.
  count(findings) {
    for (const tab of this.all) {
      const parts = tab.dataset.part === "job" ? ["job", "record"] : [tab.dataset.part];
      const count = parts.reduce((sum, each) => sum + findings.count(each), 0);
      tab.querySelector(".count").textContent = count || "";
    }
  }
}
