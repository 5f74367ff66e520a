"use strict";
/* exported JobFields */
/* global deskWords, newElement */

// The fields of the job itself, the names offered while one types, and a file that is no sound YAML.
class JobFields {
  constructor(page) {
    this.page = page;
    this.isFaulty = false;
    this.typed = new Map(); // by section and key: the text
  }

  fill(told) {
    this.fillForms(told);
    this.fillNames();
    this.showFaults(told);
  }

  listen() {
    for (const field of document.querySelectorAll("#form-panel input")) {
      field.addEventListener("change", () => {
        this.typed.set(`${field.dataset.section}/${field.dataset.key}`, field.value);
        this.page.flush();
      });
    }
  }

  goTo(section, key) {
    const field = document.querySelector(
      `[data-section="${section}"][data-key="${key || section}"]`,
    );
    field?.closest("details")?.setAttribute("open", "");
    field?.focus();
  }

  restore(section, cells) {
    for (const [, key, text] of cells) {
      const place = `${section}/${key}`;
      if (!this.typed.has(place)) this.typed.set(place, text);
    }
  }

  // What waits to be written; null if nothing does.
  next() {
    const [place, text] = this.typed.entries().next().value ?? [];
    if (!place) return null;
    this.typed.delete(place);
    const [section, key] = place.split("/");
    return { section, cells: [["", key, text]], fresh: [] };
  }

  fillForms({ forms }) {
    for (const field of document.querySelectorAll("#form-panel input")) {
      const text = forms[field.dataset.section][field.dataset.key];
      if (field !== document.activeElement) field.value = text ?? this.page.words["in the file"];
      field.disabled = text === null;
    }
  }

  // What a cell offers while one types: names of a part, and that it is not known.
  fillNames() {
    for (const column of Object.values(this.page.grids).flat()) {
      const { names, unknown, offers } = column;
      if (offers || (!names && !unknown)) continue;
      const id = JobFields.listOf(column);
      const list = document.getElementById(id) ?? newElement("datalist", "", { id });
      const offered = (this.page.rows[names] ?? []).map((row) => row.name);
      if (unknown) offered.push("not known"); // as the file says it, in any language
      list.replaceChildren(...offered.map((value) => newElement("option", "", { value })));
      if (!list.isConnected) document.getElementById("job").append(list);
    }
  }

  static listOf({ names, unknown, offers }) {
    if (offers || (!names && !unknown)) return offers;
    return `names-${names}${unknown ? "-or-not" : ""}`;
  }

  // A file that is no sound YAML is shown with its faults, and not changed.
  showFaults({ faults, lines }) {
    const isFaulty = faults.length > 0;
    this.isFaulty = isFaulty;
    document.getElementById("faults-panel").hidden = !isFaulty;
    for (const hidden of document.querySelectorAll(".parts, #preview-panel")) {
      hidden.hidden = isFaulty;
    }
    document.getElementById("grid-panel").hidden = isFaulty || this.page.part === "job";
    if (!isFaulty) return;
    const list = newElement("ol", "", { class: "file-lines" });
    lines.forEach((text, number) => {
      const line = newElement("li", text || " ");
      for (const each of faults.filter((fault) => fault.line === number + 1)) {
        line.append(
          newElement(
            "strong",
            `${deskWords.sentence(each.sentence)} ${deskWords.sentence(each.help)}`,
            { lang: each.lang },
          ),
        );
      }
      list.append(line);
    });
    document
      .getElementById("file-text")
      .replaceChildren(newElement("p", this.page.words["not readable"]), list);
  }
}
