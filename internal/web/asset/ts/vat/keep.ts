// What a device keeps of its own: every entry it noted, and the last view of
// each making, so that a page cut off from the program goes on and loses
// nothing. Where the browser refuses to keep anything, memory does, and the
// page says so.

import type { Entry, View } from "./type";

const lies = "vat/entry/"; // where entries lie aside
const days = 30; // entries that are stored with the program are kept so long

export class Keep {
  safe: boolean; // what is put here outlives the page

  private constructor(private readonly db: IDBDatabase | undefined) {
    this.safe = db !== undefined;
  }

  static async open(): Promise<Keep> {
    try {
      const ask = indexedDB.open("vatside", 1);
      ask.onupgradeneeded = () => {
        ask.result.createObjectStore("entry", { keyPath: "id" }).createIndex("making", "making");
        ask.result.createObjectStore("view", { keyPath: "making" });
      };
      return new Keep(await done(ask));
    } catch {
      return new Keep(undefined);
    }
  }

  // put keeps entries for good: the disk has them when it resolves. Until then
  // they are kept aside, in case the page is gone in that moment.
  async put(entries: Entry[]): Promise<void> {
    if (!this.db) return;
    try {
      const aside = entries.map((e) => this.aside(e));
      const t = this.db.transaction("entry", "readwrite", { durability: "strict" });
      for (const e of entries) t.objectStore("entry").put(e);
      await finished(t);
      entries.forEach((e, i) => {
        const at = lies + e.id;
        if (settled(e) || localStorage.getItem(at) === aside[i]) localStorage.removeItem(at); // else it was written anew since
      });
    } catch {
      this.safe = false; // full: memory has it until it is sent
    }
  }

  // aside keeps an entry at once, until the database has it, and returns how.
  aside(e: Entry): string {
    const text = JSON.stringify(e);
    try {
      if (this.db && !settled(e)) localStorage.setItem(lies + e.id, text);
    } catch {
      // full or forbidden: the database alone has it
    }
    return text;
  }

  async entries(making: string): Promise<Entry[]> {
    if (!this.db) return [];
    const t = this.db.transaction("entry");
    const list = await done(t.objectStore("entry").index("making").getAll(making) as IDBRequest<Entry[]>);
    const there = new Map(list.map((e) => [e.id, e]));
    for (const e of leftAside(making)) {
      const has = there.get(e.id), newest = has && settled(has) ? has : e;
      there.set(e.id, newest);
      void this.put([newest]);
    }
    return [...there.values()].sort((a, b) => a.nth - b.nth); // no clock: it may have been set
  }

  async view(making: string): Promise<View | undefined> {
    if (!this.db) return undefined;
    return done(this.db.transaction("view").objectStore("view").get(making) as IDBRequest<View | undefined>);
  }

  async putView(view: View): Promise<void> {
    if (!this.db) return;
    const t = this.db.transaction("view", "readwrite");
    t.objectStore("view").put(view);
    await finished(t).catch(() => undefined); // it only helps a page that is opened without the program
  }

  // forget drops what the program has had for long.
  async forget(now: number): Promise<void> {
    if (!this.db) return;
    const t = this.db.transaction("entry", "readwrite");
    const list = await done(t.objectStore("entry").getAll() as IDBRequest<Entry[]>);
    for (const e of list) {
      if (e.stored && now - e.raw > days * 24 * 3600_000) t.objectStore("entry").delete(e.id);
    }
    await finished(t);
  }
}

// settled: the program has said what became of it.
function settled(e: Entry): boolean {
  return e.stored === true || e.refused !== undefined;
}

function leftAside(making: string): Entry[] {
  try {
    const all = Object.keys(localStorage).filter((k) => k.startsWith(lies)).map((k) => JSON.parse(localStorage[k]) as Entry);
    return all.filter((e) => e.making === making);
  } catch {
    return [];
  }
}

function done<T>(ask: IDBRequest<T>): Promise<T> {
  return new Promise((yes, no) => {
    ask.onsuccess = () => yes(ask.result);
    ask.onerror = () => no(ask.error);
  });
}

function finished(t: IDBTransaction): Promise<void> {
  return new Promise((yes, no) => {
    t.oncomplete = () => yes();
    t.onerror = t.onabort = () => no(t.error);
  });
}

// name makes an id that no other device makes: 100 random bits.
export function name(): string {
  const letters = "abcdefghijkmnpqrstuvwxyz23456789";
  return "vat-" + Array.from(crypto.getRandomValues(new Uint8Array(20)), (b) => letters[b % 32]).join("");
}
