"use strict";
/* exported deskCalls, deskWords, newButton, toldLines */

// Ask the desk, and say what it answers in one shape.
const deskCalls = (() => {
  async function ask(path, options) {
    try {
      const answer = await fetch(path, { ...options, cache: "no-store" });
      const body = await answer.json();
      return { ok: answer.ok, ...body };
    } catch {
      return { ok: false, kind: "lost" };
    }
  }

  const headers = { Accept: "application/json" };

  return {
    get: (path) => ask(path, { headers }),
    post: (path, sent) =>
      ask(path, {
        method: "POST",
        headers: { ...headers, "Content-Type": "application/json" },
        body: JSON.stringify(sent),
      }),
  };
})();

// Words with their {values}, elements with their texts.
const deskWords = {
  sentence: (text) => {
    if (!text) return "";
    return `${text[0].toUpperCase()}${text.slice(1)}${/[.?!]$/.test(text) ? "" : "."}`;
  },
  fill: (pattern, values) =>
    pattern.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole)),
};

function newElement(name, text = "", attributes = {}) {
  const made = document.createElement(name);
  made.textContent = text;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function newButton(text, press) {
  const made = newElement("button", text, { type: "button" });
  made.addEventListener("click", press);
  return made;
}

// What is wrong and the way out, each in the language in which it is told.
function toldLines({ sentence, help, lang }, words) {
  const lines = [newElement("span", deskWords.sentence(sentence), { lang })];
  if (help) lines.push(newElement("small", deskWords.sentence(help), { lang }));
  if (lang !== document.documentElement.lang) lines.push(newElement("small", words["in English"]));
  return lines;
}
