// Sending what was noted, and hearing what is new. An entry is kept here until
// the program says that it has it, and is sent the same each time. Its time is
// this device's, put right by how far its clock is off the program's; where
// that clock was set in between, the page's own steady one tells.

import type { Keep } from "./keep";
import type { Entry, View } from "./type";

interface Answer {
  now: number;
  stored?: string[];
  refused?: { id: string; text: string }[];
  view: View;
}

const most = 200; // entries at once
const mostHas = 800; // entries a view names at most: with fewer it names all
const patience = 6000; // ms until an answer is given up
const leap = 1000; // ms by which two clocks do not part by themselves
const silence = 30_000; // ms without a sign of the stream until it is called anew

export class Line {
  there = false; // the program answers
  pairless = false; // it answers, but knows this device no more
  private met = false; // the program has said where the run stands
  private off: number | undefined; // its clock less this one's, ms
  private surest = Infinity; // the quickest answer, which told the time best, ms
  private steady: number | undefined; // its clock less the page's steady one, ms
  private readonly pressed = new Map<string, number>(); // by entry of this page: when, by the steady clock
  private last = 0; // the newest time given
  private busy = false;
  private again = false;
  private wait = 0;
  private timer: number | undefined;
  private stream: EventSource | undefined;
  private heard = 0;
  private readonly channel = typeof BroadcastChannel === "undefined" ? undefined : new BroadcastChannel(location.pathname);
  private readonly me = Math.random();

  constructor(
    private readonly base: string,
    private readonly keep: Keep,
    private readonly entries: Entry[],
    private readonly seen: (view: View, first: boolean) => void,
    private readonly changed: () => void,
  ) {
    this.last = Math.max(0, ...entries.map((e) => e.at ?? 0));
    addEventListener("online", () => this.soon(0));
    document.addEventListener("visibilitychange", () => this.listen());
    this.channel?.addEventListener("message", (m) => this.relayed(m.data));
    setInterval(() => this.alive(), 5000);
  }

  start(): void {
    this.listen();
    this.soon(0);
  }

  // noted must be told of every entry at once.
  noted(fresh: Entry[]): void {
    const sure = this.off !== undefined && !this.jumped();
    for (const e of fresh) {
      this.pressed.set(e.id, performance.now());
      if (sure) this.stamp(e);
    }
  }

  // clock takes the program's time from an answer, wrong by at most half of what
  // it took; a slow one is believed only where this clock was set.
  private clock(now: number, took: number): void {
    const off = now - Date.now();
    if (this.off !== undefined && took > 2 * this.surest && !this.jumped()) return;
    this.surest = Math.min(this.surest, took);
    this.off = off;
    this.steady = now - performance.now();
    for (const e of this.entries) if (e.at === undefined) this.stamp(e);
  }

  // jumped reports whether this device's clock was set since, or it slept.
  private jumped(): boolean {
    return Math.abs(Date.now() + (this.off ?? 0) - performance.now() - (this.steady ?? 0)) > leap;
  }

  // stamp gives an entry its time by the program's clock. The steady clock stands
  // still while the device sleeps: by it an entry is never too early.
  private stamp(e: Entry): void {
    const pressed = this.pressed.get(e.id), most = pressed === undefined ? Infinity : pressed + (this.steady ?? Infinity);
    this.last = Math.max(this.last + 1, Math.round(Math.min(most, e.raw + (this.off ?? 0))));
    e.at = this.last;
  }

  // soon sends after a while; of several wishes the earliest holds.
  soon(ms: number): void {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => void this.send(), ms);
  }

  private async send(): Promise<void> {
    if (this.busy) {
      this.again = true;
      return;
    }
    this.busy = true;
    this.again = false;
    try {
      if (this.off === undefined || this.jumped()) await this.ask(`${this.base}/view`);
      const open = this.entries.filter((e) => !e.stored && e.refused === undefined);
      for (let i = 0; i < open.length; i += most) await this.post(open.slice(i, i + most));
      this.wait = 0;
      this.there = true;
    } catch {
      this.there = false;
      this.wait = Math.min(5000, this.wait * 2 || 500);
      this.soon(this.wait);
    } finally {
      this.busy = false;
      this.changed();
      if (this.again) this.soon(0);
    }
  }

  private async post(list: Entry[]): Promise<void> {
    for (const e of list) {
      if (e.at === undefined) this.stamp(e);
      this.keep.aside(e); // before it is sent: never under another time
    }
    const body = list.map((e) => ({ id: e.id, kind: e.kind, body: e.body, at: e.at, ...(e.corrects ? { corrects: e.corrects } : {}) }));
    const a = await this.ask(`${this.base}/events`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ events: body }) });
    const stored = new Set(a.stored ?? []);
    const refused = new Map((a.refused ?? []).map((r) => [r.id, r.text]));
    for (const e of list) {
      if (stored.has(e.id)) e.stored = true;
      const why = refused.get(e.id);
      if (why !== undefined) e.refused = why;
    }
    void this.keep.put(list);
    this.channel?.postMessage({ from: this.me, stored: [...stored] });
  }

  private async ask(url: string, init: RequestInit = {}): Promise<Answer> {
    const stop = new AbortController();
    const clock = window.setTimeout(() => stop.abort(), patience);
    try {
      const began = performance.now();
      const r = await fetch(url, { ...init, cache: "no-store", redirect: "manual", signal: stop.signal });
      this.pairless = r.type === "opaqueredirect" || r.status === 401 || r.status === 403;
      if (!r.ok) throw new Error(String(r.status));
      const a = (await r.json()) as Answer;
      const took = performance.now() - began;
      this.clock(a.now + took / 2, took);
      this.view(a.view);
      return a;
    } finally {
      clearTimeout(clock);
    }
  }

  // view hands on what the program says. Its first word holds even where it
  // knows less than this device: it went back to a copy, or its file was lost.
  // What it had once and has no more is sent again.
  private view(v: View): void {
    const first = !this.met;
    this.met = true;
    if (first && v.has.length < mostHas) {
      const has = new Set(v.has);
      for (const e of this.entries) if (e.stored && !has.has(e.id)) e.stored = false;
    }
    this.seen(v, first);
  }

  // listen keeps one stream for all pages of this browser: the one that is seen
  // has it and tells the others.
  private listen(): void {
    if (document.visibilityState === "hidden") {
      this.stop();
      this.channel?.postMessage({ from: this.me, free: true });
      return;
    }
    if (this.stream) return;
    this.channel?.postMessage({ from: this.me, taken: true });
    this.heard = performance.now();
    const s = new EventSource(`${this.base}/stream`);
    this.stream = s;
    const sign = () => {
      this.heard = performance.now();
      if (!this.there) this.soon(0);
    };
    s.onopen = sign;
    s.addEventListener("here", sign);
    s.onmessage = (m) => {
      sign();
      const view = JSON.parse(m.data) as View;
      this.view(view);
      this.channel?.postMessage({ from: this.me, view });
    };
    s.onerror = () => {
      this.there = false;
      this.changed();
      if (s.readyState === EventSource.CLOSED) this.stop();
    };
  }

  private stop(): void {
    this.stream?.close();
    this.stream = undefined;
  }

  private relayed(m: { from: number; taken?: boolean; free?: boolean; view?: View; stored?: string[] }): void {
    if (m.from === this.me) return;
    this.heard = performance.now();
    if (m.taken) this.stop();
    if (m.free) this.listen();
    if (m.view) this.seen(m.view, false);
    for (const e of this.entries) if (m.stored?.includes(e.id)) e.stored = true;
  }

  private alive(): void {
    if (document.visibilityState === "hidden" || performance.now() - this.heard < silence) return;
    this.stop();
    this.listen();
  }
}
