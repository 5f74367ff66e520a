"use strict";
// Keep a copy of the record on this phone for a day without signal, and say how old it is.
//
// The page is whole without this script. It holds no word of the job, so that its digest in the
// page's policy is the same for all pages; what differs from page to page are the data-* of the
// note in the foot.
(async () => {
  const MILLISECONDS_OF_A_DAY = 24 * 60 * 60 * 1000;
  const note = document.getElementById("saved");
  const root = new URL(note.dataset.root, location.href);

  // A page that is opened from a folder has no worker and needs none.
  const canKeep =
    "serviceWorker" in navigator &&
    isSecureContext &&
    window.caches &&
    /^https?:$/.test(location.protocol);
  if (!canKeep) return;

  function ageOf(savedAt) {
    const days = Math.max(0, Math.floor((Date.now() - savedAt) / MILLISECONDS_OF_A_DAY));
    const { today, day, days: others } = note.dataset;
    const ago = [today, day][days] ?? others.replace("#days", days);
    return `${new Date(savedAt).toISOString().slice(0, 10)} (${ago})`;
  }

  const wordsIn = async (answer) => (await answer.text()).split(" ");

  // The worker writes "REVISION MILLISECONDS" when its copy is whole, "REVISION ALL" before.
  async function saidOf(name) {
    const copy = await caches.open(name);
    const saved = await copy.match(new URL("saved_at", root));
    if (saved) {
      const [revision, savedAt] = await wordsIn(saved);
      return note.dataset.saved
        .replace("#revision", revision)
        .replace("#age", ageOf(Number(savedAt)));
    }
    const saving = await copy.match(new URL("saving", root));
    if (!saving) return "";
    const [revision, all] = await wordsIn(saving);
    const number = (await copy.keys()).length - 1; // that note is no page
    return note.dataset.saving
      .replace("#revision", revision)
      .replace("#number", number)
      .replace("#all", all);
  }

  async function tellOfCopy() {
    const names = (await caches.keys()).filter((name) =>
      name.startsWith(`record ${root.pathname} `),
    );
    const texts = (await Promise.all(names.map(saidOf))).filter(Boolean);
    if (!texts.length) return;
    if (!navigator.onLine) texts.unshift(note.dataset.cut);
    note.textContent = texts.join(" ");
    note.hidden = false;
  }

  // Where it stopped without signal, or when the browser ended the worker, it goes on.
  async function goOn() {
    const { active } = await navigator.serviceWorker.ready;
    active.postMessage("open");
  }

  try {
    navigator.serviceWorker.addEventListener("controllerchange", goOn);
    navigator.serviceWorker.addEventListener("message", tellOfCopy);
    await navigator.serviceWorker.register(new URL(note.dataset.worker, root), {
      updateViaCache: "none",
    });
    await goOn();
  } catch {
    // Without signal, or where the phone refuses: an earlier copy may be there all the same.
  }
  tellOfCopy();
  const MILLISECONDS_OF_A_MINUTE = 60 * 1000;
  setInterval(goOn, MILLISECONDS_OF_A_MINUTE);
  addEventListener("offline", tellOfCopy);
  addEventListener("online", () => goOn().then(tellOfCopy));
})();
