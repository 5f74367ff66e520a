"use strict";
// Send what waits on the phone, one entry after the other, and say what keeps the rest from going.

/* exported EntrySender */

class EntrySender {
  // `texts` has the address of the login and what is said without signal; `accepted` is called
  // with the server's answer to each entry that is stored.
  constructor(queue, texts, accepted) {
    this.queue = queue;
    this.texts = texts;
    this.accepted = accepted;
  }

  // Returns "" when nothing is in the way, "login" where a crew has to log in, else a sentence.
  async send() {
    const waiting = await this.queue.waiting();
    let login;
    try {
      login = await this.whoIsLoggedIn();
    } catch (fault) {
      return this.obstacle(fault);
    }
    if (login.crew) CrewName.remember(login.crew);
    if (!waiting.length) return "";
    if (!login.crew) return "login";
    for (const entry of waiting) {
      const obstacle = await this.sendOne(entry, login);
      if (obstacle) return obstacle;
    }
    return "";
  }

  // A link that stalls ends here, and what was sent is sent again under its mark.
  limit(bytes) {
    const { patience, bytesPerS } = this.texts;
    return AbortSignal.timeout(Number(patience) + (1000 * bytes) / Number(bytesPerS));
  }

  obstacle(fault) {
    return fault.name === "TimeoutError" ? this.texts.stalled : this.texts.offline;
  }

  async whoIsLoggedIn() {
    const answer = await fetch(this.texts.loginPage, {
      headers: { Accept: "application/json" },
      cache: "no-store",
      signal: this.limit(0),
    });
    if (!answer.ok) throw new Error(answer.status);
    return answer.json();
  }

  async sendOne(entry, login) {
    let answer, told;
    try {
      answer = await fetch(entry.action, {
        method: "POST",
        body: formOf(entry, login.crew),
        redirect: "error",
        signal: this.limit(entry.photo ? entry.photo.size : 0),
        headers: { Accept: "application/json", "X-Token": login.token },
      });
      told = await answer.json();
    } catch (fault) {
      return this.obstacle(fault);
    }
    if (answer.ok) {
      await this.queue.drop(entry.id);
      this.accepted(told);
      return "";
    }
    // These say that the entry itself cannot be taken: it waits for a person, the others go on.
    if ([400, 409, 413, 415].includes(answer.status)) {
      await this.queue.keep({ ...entry, refused: told.sentence });
      return "";
    }
    return answer.status === 401 ? "login" : told.sentence;
  }
}

function formOf(entry, crew) {
  const form = new FormData();
  for (const [name, value] of Object.entries(entry.fields)) form.append(name, value);
  if (entry.crew && entry.crew !== crew) form.append("by", entry.crew); // who measured it
  if (entry.photo) form.append("photo", entry.photo, "photo");
  return form;
}

// Who is logged in is remembered: a page from the phone's copy says who was when it was kept.
const CrewName = {
  key: "cardgen crew",

  remember(name) {
    try {
      localStorage.setItem(this.key, name);
    } catch {
      // A phone that keeps nothing: the server knows who sends.
    }
  },

  last() {
    return localStorage.getItem(this.key) || "";
  },
};
