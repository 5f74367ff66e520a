"use strict";
/* exported HeldKeys */

// While a step back or forward is under way, nothing is typed into a grid: a row may be another then.
class HeldKeys {
  static TYPED = ["Delete", "Backspace", "F2", "Enter"];

  constructor(desk) {
    this.desk = desk;
    this.isHeld = false; // something was typed meanwhile
  }

  listen(host) {
    host.addEventListener("mousedown", () => this.release(), true);
    host.addEventListener("dblclick", (event) => this.refuse(event), true);
  }

  // Of a word so begun the rest is not taken either.
  isRefused() {
    if (this.desk.isStepping) {
      this.isHeld = true;
      this.desk.notices.show(this.desk.words["step first"]);
    }
    return this.isHeld;
  }

  refuse(event) {
    if (!this.isRefused()) return false;
    event.preventDefault();
    event.stopPropagation();
    return true;
  }

  // Keys that go to another cell type nothing.
  takes(event) {
    if (event.key.length === 1 || HeldKeys.TYPED.includes(event.key)) return this.refuse(event);
    this.release();
    return false;
  }

  // A cell is chosen by hand: now it is plain what is meant.
  release() {
    if (!this.isHeld || this.desk.isStepping) return;
    this.isHeld = false;
    this.desk.notices.show("");
  }
}
