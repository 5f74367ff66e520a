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

  // The worker writes "REVISION MILLISECONDS" when its copy is whole.
  async function tellOfCopy() {
    const names = await caches.keys();
    const name = names.find((each) => each.startsWith(`record ${root.pathname} `));
    const saved = name && (await (await caches.open(name)).match(new URL("saved_at", root)));
    if (!saved) return;
    const [revision, savedAt] = (await saved.text()).split(" ");
    const text = note.dataset.saved
      .replace("#revision", revision)
      .replace("#age", ageOf(Number(savedAt)));
    note.textContent = navigator.onLine ? text : `${note.dataset.cut} ${text}`;
    note.hidden = false;
  }

  try {
    navigator.serviceWorker.addEventListener("controllerchange", tellOfCopy);
    await navigator.serviceWorker.register(new URL(note.dataset.worker, root), {
      updateViaCache: "none",
    });
    await navigator.serviceWorker.ready;
  } catch {
    // Without signal, or where the phone refuses: an earlier copy may be there all the same.
  }
  tellOfCopy();
  addEventListener("offline", tellOfCopy);
  addEventListener("online", tellOfCopy);
})();
