// What a device keeps of its own: every entry it noted, and the last view of
// each making, so that a page cut off from the program goes on and loses
// nothing. Where the browser refuses to keep anything, memory does, and the
// page says so.

import type { Entry, View } from "./type";

const aside = "vat/entry/";
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
      for (const e of entries) if (e.at === undefined) setAside(e);
      const t = this.db.transaction("entry", "readwrite", { durability: "strict" });
      for (const e of entries) t.objectStore("entry").put(e);
      await finished(t);
      for (const e of entries) localStorage.removeItem(aside + e.id);
    } catch {
      this.safe = false; // full: memory has it until it is sent
    }
  }

  async entries(making: string): Promise<Entry[]> {
    if (!this.db) return [];
    const t = this.db.transaction("entry");
    const list = await done(t.objectStore("entry").index("making").getAll(making) as IDBRequest<Entry[]>);
    const there = new Set(list.map((e) => e.id)), left = leftAside(making);
    const lost = left.filter((e) => !there.has(e.id));
    list.push(...lost);
    for (const e of left) if (there.has(e.id)) localStorage.removeItem(aside + e.id);
    if (lost.length > 0) void this.put(lost);
    return list.sort((a, b) => a.nth - b.nth); // no clock: it may have been set
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

function setAside(e: Entry): void {
  try {
    localStorage.setItem(aside + e.id, JSON.stringify(e));
  } catch {
    // full or forbidden: the database alone has it
  }
}

function leftAside(making: string): Entry[] {
  try {
    const all = Object.keys(localStorage).filter((k) => k.startsWith(aside)).map((k) => JSON.parse(localStorage[k]) as Entry);
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
