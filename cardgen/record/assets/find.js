"use strict";
// The field on the page that lists the whole job: it hides the rows that do not have what is typed.

// Without accents and capitals, as a thumb types it.
function plainLetters(text) {
  return text
    .toLowerCase()
    .normalize("NFD")
    .replace(/[\u0300-\u036f]/g, "");
}

// A tag says its address whole, HTTPS://HOST/KEY/BOX: all before the key is left out.
function wordsTyped(text) {
  const withoutHost = plainLetters(text).replace(/^https?:\/\/\S*?(?=[0-9a-z]{12,26}\/)/, "");
  return withoutHost.split(/\s+/).filter(Boolean);
}

// What looks like a name (a7, vb-1) is found where a word begins: "b1" is not in "vb1".
function hasWord(plainText, word) {
  const isName = /^[a-z]{0,3}-?\d/.test(word);
  return ` ${plainText}`.includes(isName ? ` ${word}` : word);
}

(() => {
  const field = document.getElementById("field");
  const nothingFound = document.getElementById("none");
  const groups = [...document.querySelectorAll("[data-group]")];
  const rows = [...document.querySelectorAll("[data-find]")].map((element) => ({
    element,
    text: plainLetters(element.dataset.find),
  }));

  function hideOthers() {
    const words = wordsTyped(field.value);
    for (const { element, text } of rows) {
      element.hidden = !words.every((word) => hasWord(text, word));
    }
    for (const group of groups) {
      group.hidden = !group.querySelector("[data-find]:not([hidden])");
    }
    nothingFound.hidden = rows.some(({ element }) => !element.hidden);
  }

  document.getElementById("form").hidden = false;
  field.addEventListener("input", hideOthers);
  hideOthers(); // a browser may bring back what was typed before
})();
