"use strict";
/* global deskCalls, deskWords, newElement */

// The list of jobs: heads at once, states one after the other, a search over all of them.
(() => {
  const table = document.getElementById("job-table");
  const heads = JSON.parse(table.dataset.heads);
  const words = JSON.parse(table.dataset.words);
  const field = document.getElementById("f-find");
  const found = document.getElementById("found");
  const all = document.getElementById("choose-all");
  const address = (head) => `/jobs/${encodeURIComponent(head.name)}`;
  const rows = heads.map((head) => ({ head, line: lineOf(head) }));

  function lineOf(head) {
    const line = document.createElement("tr");
    const first = newElement("th", "", { scope: "row" });
    const link = newElement("a", head.site || head.name, { href: address(head), class: "go" });
    // Two jobs of one site are told apart by their files, also by who hears the links alone.
    if (head.site) link.append(" ", newElement("small", head.name));
    first.append(link);
    const choice = newElement("input", "", {
      type: "checkbox",
      name: "job",
      value: head.name,
      form: "chosen",
      "aria-label": deskWords.fill(words.choose, { name: head.name }),
    });
    choice.addEventListener("change", countChosen);
    const chosen = document.createElement("td");
    chosen.append(choice);
    const cells = [head.code, head.revision, "…", "…"].map((text) => newElement("td", text));
    line.append(chosen, first, ...cells);
    document.getElementById("jobs").append(line);
    return line;
  }

  function choices() {
    return rows.map(({ line }) => line.querySelector("input"));
  }

  // What the search hides is not printed either.
  function countChosen() {
    const shown = choices().filter((choice) => !choice.closest("tr").hidden);
    const count = shown.filter((choice) => choice.checked).length;
    all.checked = count > 0 && count === shown.length;
    all.indeterminate = count > 0 && count < shown.length;
    document.getElementById("print-chosen").disabled = !count;
    for (const choice of choices()) choice.disabled = choice.closest("tr").hidden;
  }

  function chooseAll() {
    for (const choice of choices()) {
      if (!choice.closest("tr").hidden) choice.checked = all.checked;
    }
    countChosen();
  }

  function stateText(state) {
    const parts = [
      ["errors", state.error],
      ["open questions", state.open],
      ["warnings", state.warning],
    ];
    const told = parts.filter(([, count]) => count);
    if (!told.length) return words.clean;
    return told.map(([name, count]) => deskWords.fill(words[name], { count })).join(", ");
  }

  function printText(printed) {
    if (printed.unknown) return printed.unknown;
    if (!("revision" in printed)) return words["not printed"];
    const told = ["printed", ...("hangs" in printed ? ["hangs"] : [])];
    return told.map((name) => deskWords.fill(words[name], printed)).join("; ");
  }

  async function fillStates() {
    for (const { head, line } of rows) {
      const [, , , state, printed] = line.querySelectorAll("td");
      const told = await deskCalls.get(`${address(head)}/state`);
      state.textContent = told.ok ? (head.readable ? stateText(told) : words["not readable"]) : "";
      printed.textContent = told.ok ? printText(told.printed) : deskWords.sentence(told.sentence);
      if (told.printed?.lang) printed.lang = told.printed.lang;
    }
  }

  function hitsIn(head, wanted) {
    const own = [head.name, head.site, head.code].join(" ").toLowerCase();
    const hits = head.words.filter((each) => each.join(" ").toLowerCase().includes(wanted));
    return { own: own.includes(wanted), hits };
  }

  function search() {
    const wanted = field.value.trim().toLowerCase();
    let count = 0;
    for (const { head, line } of rows) {
      const { own, hits } = hitsIn(head, wanted);
      line.hidden = Boolean(wanted) && !own && !hits.length;
      count += line.hidden ? 0 : 1;
      line.querySelector(".hits")?.remove();
      if (!wanted || !hits.length) continue;
      const list = newElement("ul", "", { class: "hits" });
      for (const [section, name, about] of hits.slice(0, 5)) {
        const item = document.createElement("li");
        const to = `${address(head)}#${section}/${encodeURIComponent(name)}`;
        item.append(newElement("a", about ? `${name}: ${about}` : name, { href: to }));
        list.append(item);
      }
      line.querySelector("th").append(list);
    }
    const name = count === 1 ? "job one" : "jobs many";
    countChosen();
    found.textContent = wanted ? deskWords.fill(words[name], { count }) : "";
  }

  field.addEventListener("input", search);
  all.addEventListener("change", chooseAll);
  countChosen(); // a browser may keep what was ticked before
  fillStates();
})();
