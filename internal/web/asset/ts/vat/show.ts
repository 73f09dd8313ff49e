// Setting the page from where the run stands.

import { rows, type Row } from "./row";
import type { Line } from "./send";
import type { Stand } from "./stand";
import type { Act, Ask, Entry, View } from "./type";

const brief = 4000; // ms that a word stands
const soon = 1000; // ms in which an entry is usually stored: so long nothing is said of it

export interface Doings {
  answer(ask: Ask, yes: boolean): void;
  undo(id: string): void;
  seen(e: Entry): void; // a refused one
}

export class Show {
  private remarks: { text: string; href?: string | undefined }[] = [];
  private readonly poured = new Set<string>(); // asked whether it was forgotten: it was not
  private again: () => void = () => undefined;
  private later: number | undefined;
  private word: number | undefined;

  constructor(private readonly root: HTMLElement, private readonly doings: Doings) {}

  // remark says something before pulling starts; it is closed by hand, or by
  // the first sheet.
  remark(text: string, href?: string): void {
    this.remarks.push({ text, href });
    this.again();
  }

  started(): void {
    this.remarks = [];
  }

  // say shows a word for a moment, above whatever is open.
  say(text: string): void {
    const el = this.root.querySelector<HTMLElement>("[data-word]");
    if (!el) return;
    el.textContent = text;
    el.showPopover?.();
    clearTimeout(this.word);
    this.word = window.setTimeout(() => el.hidePopover?.(), brief);
  }

  draw(view: View, s: Stand, line: Line, safe: boolean, entries: Entry[]): void {
    this.again = () => this.draw(view, s, line, safe, entries);
    this.root.dataset.waiting = String(s.waiting);
    const act = s.due[0];
    this.text("big", act ? act.say : s.next ? `Pull ${s.next.after - s.couched}` : "Pull");
    this.text("more", act ? more(act, s) : s.next ? `then ${lower(s.next.say)}` : "");
    const weight = view.ahead.find((w) => w.n === s.couched + 1);
    this.text("run", [view.why ?? view.words ?? "", weight ? `Next sheet about ${weight.says} (${weight.band}).` : ""].filter(Boolean).join(" "));
    this.text("n", String(s.couched));
    this.text("of", [view.wanted ? `of ${view.wanted}` : "", `post ${s.post}: ${s.inPost}${view.holds ? ` of ${view.holds}` : ""}`, s.kissed ? `${s.kissed} kissed off` : ""].filter(Boolean).join(" · "));
    this.line(s, line, safe, entries);
    this.text("first", `First ${s.tests || view.tests || ""} sheets, dry`);
    this.text("level", view.level ? `By what is known: ${view.level}.` : "");
    const skip = this.root.querySelector<HTMLElement>("[data-skip]");
    if (skip) skip.hidden = !s.due.some((a) => a.notes);
    this.notes(view, entries);
    this.noted(view, entries);
  }

  private text(name: string, text: string): void {
    for (const el of this.root.querySelectorAll(`[data-${name}]`)) if (el.textContent !== text) el.textContent = text;
  }

  // line says whether all is saved; of an entry that is on its way nothing.
  private line(s: Stand, line: Line, safe: boolean, entries: Entry[]): void {
    clearTimeout(this.later);
    const open = entries.find((e) => !e.stored && e.refused === undefined);
    const wait = open && line.there ? soon - (Date.now() - open.raw) : 0;
    if (line.pairless) return this.text("line", "This device is no longer let in: pair it again. What was counted stays here.");
    if (open && wait > 0 && wait <= soon) {
      this.later = window.setTimeout(() => this.line(s, line, safe, entries), wait + 1);
      return;
    }
    const waiting = entries.filter((e) => !e.stored && e.refused === undefined).length;
    const kept = safe ? "kept here" : "kept by this page only";
    this.text("line", waiting > 0 ? `${line.there ? "" : "no connection: "}${waiting} to send, ${kept}` : line.there ? "all saved" : "no connection");
  }

  private notes(view: View, entries: Entry[]): void {
    const { answer } = this.doings;
    const list = this.remarks.map((r): Row => ({
      key: r.text, text: r.text, link: r.href, buttons: [["Understood", () => { this.remarks = this.remarks.filter((o) => o !== r); this.again(); }]],
    }));
    for (const a of view.asks) list.push({ key: a.event, text: a.text, buttons: [["It is right", () => answer(a, true)], ["Take it back", () => answer(a, false)]] });
    const m = view.missed;
    if (m && !this.poured.has(m.event)) {
      list.push({ key: `missed ${m.event}`, text: m.text, buttons: [["It was forgotten", () => answer(m, false)], ["It was poured", () => { this.poured.add(m.event); this.again(); }]] });
    }
    for (const e of entries) if (e.refused !== undefined && !e.stored && !e.seen) list.push({ key: e.id, text: `Not kept: ${said(e)}. ${e.refused}`, buttons: [["Understood", () => this.doings.seen(e)]] });
    rows(this.root.querySelector("[data-notes]"), "p", list);
  }

  // noted lists what holds, what is still to be sent first.
  private noted(view: View, entries: Entry[]): void {
    const gone = new Set(entries.filter((e) => e.body["void"] === true && e.refused === undefined).map((e) => e.corrects));
    const has = new Set(view.has);
    const row = (id: string, text: string): Row => ({ key: id, text, buttons: [["Take back", () => this.doings.undo(id), `Take back: ${text}`]] });
    const fresh = entries.filter((e) => !has.has(e.id) && !e.corrects && e.refused === undefined && !gone.has(e.id)).reverse().map((e) => row(e.id, said(e)));
    rows(this.root.querySelector("[data-noted]"), "li", [...fresh, ...view.noted.filter((n) => !gone.has(n.id)).map((n) => row(n.id, `${n.when}  ${n.text}`))]);
  }
}

// said is an entry that the program has not put into words yet.
export function said(e: Entry): string {
  const n = (key: string) => Number(e.body[key] ?? 0);
  switch (e.kind) {
    case "post":
      return n("pulled") === 0 ? "kissed off" : `${n("pulled")} pulled, post ${n("post")}`;
    case "recharge":
      return `${n("stock_ml")} mL of stock poured`;
    case "test weighed":
    case "weighed at parting":
      return `${n("sheets")} sheets weighed, ${n("grams")} g`;
    default:
      return e.kind;
  }
}

function more(a: Act, s: Stand): string {
  const rest = s.due.slice(1).map((d) => lower(d.say));
  return [a.more ?? "", rest.length ? `Then ${rest.join(", ")}.` : "", a.notes ? "Then pull." : ""].filter(Boolean).join(" ");
}

function lower(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
