"use strict";
/* global deskCalls, deskWords, newElement, toldLines */

// How far the queue is; it goes on in the desk, whether this page is open or not.
(() => {
  const PAUSE = 700; // ms between looks
  const box = document.getElementById("queue");
  const words = JSON.parse(box.dataset.words);
  const table = document.getElementById("queue-jobs");
  const stop = document.getElementById("queue-stop");
  const goOn = document.getElementById("queue-go-on");
  const lines = new Map();
  const GOOD = ["printed", "current"];
  const WAITING = ["waiting", "printing"];

  function reasons(job) {
    const list = newElement("ul", "", { class: "findings" });
    for (const reason of job.told) {
      const item = newElement("li", "");
      item.append(...toldLines(reason, words));
      if (reason.others) {
        const others = newElement("span", "", { class: "others" });
        others.append(newElement("b", words["the same for"]), ` ${reason.others}`);
        item.append(others);
      }
      list.append(item);
    }
    if (job.more) {
      list.append(newElement("li", deskWords.fill(words["and more"], { count: job.more })));
    }
    return list;
  }

  function fill(line, job) {
    const address = `/jobs/${encodeURIComponent(job.name)}`;
    const head = newElement("th", "", { scope: "row" });
    head.append(newElement("a", job.name, { href: address, class: "go" }));
    const cell = newElement("td", words[`queue ${job.state}`]);
    if (job.told.length) cell.append(reasons(job));
    if (job.state === "otherwise") {
      cell.append(newElement("a", words["to print"], { href: `${address}/print`, class: "go" }));
    }
    line.dataset.state = job.state;
    line.replaceChildren(head, cell);
  }

  // Only rows that changed, so that a link keeps the focus.
  function fillRows(jobs) {
    for (const job of jobs) {
      const told = JSON.stringify(job);
      const known = lines.get(job.name);
      if (known?.told === told) continue;
      const line = known?.line ?? document.createElement("tr");
      fill(line, job);
      if (!known) table.append(line);
      lines.set(job.name, { line, told });
    }
  }

  function show(told) {
    if (!told.ok) {
      said(words["lost server"]);
      return;
    }
    const total = told.jobs.length;
    const left = told.jobs.filter((job) => WAITING.includes(job.state)).length;
    const good = told.jobs.filter((job) => GOOD.includes(job.state)).length;
    const bar = document.getElementById("queue-bar");
    bar.max = total || 1;
    bar.value = total - left;
    const pattern = told.running
      ? words[told.stopped ? "queue stopping" : "queue going"]
      : words[told.stopped && left ? "queue stopped" : "queue done"];
    said(deskWords.fill(pattern, { count: told.running || left ? total - left : good, total }));
    stop.disabled = !told.running || told.stopped;
    goOn.disabled = told.running || good === total;
    fillRows(told.jobs);
  }

  function said(text) {
    const line = document.getElementById("queue-said");
    if (line.textContent !== text) line.textContent = text;
  }

  async function look() {
    show(await deskCalls.get("/queue/state"));
    setTimeout(look, PAUSE);
  }

  stop.addEventListener("click", async () => show(await deskCalls.post("/queue/stop", {})));
  goOn.addEventListener("click", async () => show(await deskCalls.post("/queue/go-on", {})));
  look();
})();
