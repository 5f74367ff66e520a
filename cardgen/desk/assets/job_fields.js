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

  fillNames() {
    for (const section of ["boxes", "coils", "palettes"]) {
      const id = `names-${section}`;
      const list = document.getElementById(id) ?? newElement("datalist", "", { id });
      list.replaceChildren(
        ...this.page.rows[section].map((row) => newElement("option", "", { value: row.name })),
      );
      if (!list.isConnected) document.getElementById("job").append(list);
    }
  }

  // A file that is no sound YAML is shown with its faults, and not changed.
  showFaults({ faults, lines }) {
    const isFaulty = faults.length > 0;
    this.isFaulty = isFaulty;
    document.getElementById("faults-panel").hidden = !isFaulty;
    for (const hidden of document.querySelectorAll(".tabs, #preview-panel")) {
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
            { lang: "en" },
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
