// Setting the page from where the run stands.

import type { Line } from "./send";
import type { Stand } from "./stand";
import type { Act, Ask, Entry, View } from "./type";

export class Show {
  private answer: (ask: Ask, yes: boolean) => void = () => undefined;
  private undo: (id: string) => void = () => undefined;
  private readonly remarks: { text: string; href?: string | undefined }[] = [];
  private drawn: View | undefined;

  constructor(private readonly root: HTMLElement) {}

  asks(answer: (ask: Ask, yes: boolean) => void, undo: (id: string) => void): void {
    this.answer = answer;
    this.undo = undo;
  }

  // remark says something once, above everything; it is closed by hand.
  remark(text: string, href?: string): void {
    this.remarks.push({ text, href });
    if (this.drawn) this.notes(this.drawn, []);
  }

  say(text: string): void {
    this.text("line", text);
  }

  draw(view: View, s: Stand, line: Line, safe: boolean, entries: Entry[]): void {
    const act = s.due[0];
    this.text("big", act ? act.say : s.next ? `Pull ${s.next.after - s.couched}` : "Pull");
    this.text("more", act ? more(act, s) : s.next ? `then ${lower(s.next.say)}` : "");
    const weight = view.ahead.find((w) => w.n === s.couched + 1);
    this.text("run", [view.why ?? view.words ?? "", weight ? `Next sheet about ${weight.says} (${weight.band}).` : ""].filter(Boolean).join(" "));
    this.text("n", String(s.couched));
    this.text("of", [view.wanted ? `of ${view.wanted}` : "", `post ${s.post}: ${s.inPost}${view.holds ? ` of ${view.holds}` : ""}`, s.kissed ? `${s.kissed} kissed off` : ""].filter(Boolean).join(" · "));
    this.text("line", line.pairless ? "This device is no longer let in: pair it again. What was counted stays here." : s.waiting === 0 ? (line.there ? "all saved" : "no connection") : `${s.waiting} to send${safe ? "" : ", kept by this page only"}`);
    this.text("first", `First ${s.tests || view.tests || ""} sheets, dry`);
    this.text("level", view.level ? `By what is known: ${view.level}.` : "");
    const skip = this.root.querySelector<HTMLElement>("[data-skip]");
    if (skip) skip.hidden = !s.due.some((a) => a.notes);
    this.notes(view, entries.filter((e) => e.refused !== undefined && !e.stored));
    this.noted(view, s.waiting);
    this.drawn = view;
  }

  private text(name: string, text: string): void {
    for (const el of this.root.querySelectorAll(`[data-${name}]`)) if (el.textContent !== text) el.textContent = text;
  }

  private notes(view: View, refused: Entry[]): void {
    const box = this.root.querySelector("[data-notes]");
    if (!box) return;
    const list: Node[] = this.remarks.map((r, i) => {
      const p = element("p", r.text + " ");
      if (r.href) p.append(link(r.href, "How"), " ");
      p.append(button("Understood", () => { this.remarks.splice(i, 1); this.notes(view, refused); }));
      return p;
    });
    for (const a of [...view.asks, ...(view.missed ? [view.missed] : [])]) {
      const p = element("p", a.text + " ");
      const missed = a === view.missed;
      p.append(button(missed ? "It was forgotten" : "It is right", () => this.answer(a, !missed)), " ");
      if (!missed) p.append(button("Take it back", () => this.answer(a, false)));
      list.push(p);
    }
    for (const e of refused) list.push(element("p", `Not kept: ${e.refused}`));
    box.replaceChildren(...list);
  }

  private noted(view: View, waiting: number): void {
    const ol = this.root.querySelector("[data-noted]");
    if (!ol || (this.drawn === view && waiting === 0)) return;
    ol.replaceChildren(...view.noted.map((n) => {
      const li = element("li", `${n.when}  ${n.text} `);
      const b = button("Take back", () => this.undo(n.id));
      b.setAttribute("aria-label", `Take back: ${n.text}`);
      li.append(b);
      return li;
    }));
  }
}

function more(a: Act, s: Stand): string {
  const rest = s.due.slice(1).map((d) => lower(d.say));
  return [a.more ?? "", rest.length ? `Then ${rest.join(", ")}.` : "", a.notes ? "Then pull." : ""].filter(Boolean).join(" ");
}

function lower(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

export function element(tag: string, text: string): HTMLElement {
  const el = document.createElement(tag);
  el.textContent = text;
  return el;
}

export function button(text: string, act: () => void): HTMLButtonElement {
  const b = document.createElement("button");
  b.type = "button";
  b.textContent = text;
  b.addEventListener("click", act);
  return b;
}

function link(href: string, text: string): HTMLAnchorElement {
  const a = document.createElement("a");
  a.href = href;
  a.textContent = text;
  return a;
}
