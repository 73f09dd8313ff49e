// The live page of a run: one large button, what comes next, and what was
// noted. It counts at once, keeps on this device, and sends when it can.

import { awake, revisits } from "./device";
import { dialogs } from "./dialog";
import { name, Keep } from "./keep";
import { presses } from "./press";
import { Line } from "./send";
import { settings } from "./setting";
import { said, Show } from "./show";
import { stand, type Stand } from "./stand";
import { timers } from "./timer";
import type { Ask, Entry, Note, View } from "./type";

// Run is what the parts of the page share.
export interface Run {
  readonly making: string;
  view: View;
  stand(): Stand;
  note(...notes: Note[]): void;
  kissed(): void;
  takeBack(): void;
  answer(ask: Ask, yes: boolean): void;
}

const taken = (id: string): Note => ({ kind: "correction", body: { void: true }, corrects: id });

async function run(root: HTMLElement): Promise<void> {
  const making = root.dataset.making ?? "";
  const keep = await Keep.open();
  const first = JSON.parse(root.dataset.view ?? "null") as View;
  const older = await keep.view(making);
  let view = older && older.seq > first.seq ? older : first;
  const entries = await keep.entries(making);
  const skipped = new Set<number>();
  let nth = Math.max(-1, ...entries.map((e) => e.nth)) + 1;
  const show = new Show(root, {
    answer: (ask, yes) => me.answer(ask, yes),
    undo: (id) => me.note(taken(id)),
    seen(e) {
      e.seen = true;
      void keep.put([e]);
      draw();
    },
  });
  const set = settings(root);

  const draw = () => show.draw(view, stand(view, entries, skipped), line, keep.safe, entries);
  const line = new Line(root.dataset.vat ?? "", keep, entries, (v, first) => {
    if (v.making !== making || (!first && v.seq < view.seq)) return;
    view = v;
    void keep.putView(v);
    draw();
  }, () => draw());

  const me: Run = {
    making,
    get view() { return view; },
    set view(v) { view = v; },
    stand: () => stand(view, entries, skipped),
    note(...notes) {
      const group = name();
      const raw = Date.now();
      const fresh = notes.map((n): Entry => ({ id: name(), making, raw, nth: nth++, group, kind: n.kind, body: n.body, ...(n.corrects ? { corrects: n.corrects } : {}) }));
      entries.push(...fresh);
      line.noted(fresh);
      show.started();
      draw();
      set.click();
      void keep.put(fresh);
      line.soon(0);
    },
    kissed() {
      const s = me.stand();
      if (s.couched === 0) return show.say("No sheet is counted that could go back");
      me.note({ kind: "post", body: { post: s.post, pulled: 0, kissed_off: 1 } });
      show.say("Kissed off: one sheet less");
    },
    takeBack() {
      const gone = new Set(entries.filter((e) => e.corrects).map((e) => e.corrects));
      const has = new Set(view.has), holds = new Set(view.noted.map((n) => n.id));
      const live = (e: Entry) => !e.corrects && !gone.has(e.id) && e.refused === undefined && (holds.has(e.id) || !has.has(e.id));
      const last = entries.filter(live).pop();
      if (!last) return show.say("Nothing of this device to take back. Anything else is taken back under More.");
      me.note(...entries.filter((e) => e.group === last.group && live(e)).reverse().map((e) => taken(e.id)));
      show.say(`Taken back: ${said(last)}`);
    },
    answer(ask, yes) {
      me.note(yes && ask.yes ? ask.yes : ask.no);
    },
  };

  const pull = () => {
    const s = me.stand();
    if (view.closed) return show.say("This making is closed: its record takes no more sheets here");
    const post = view.holds > 0 && s.inPost >= view.holds ? s.post + 1 : s.post;
    me.note(...s.due.flatMap((a) => a.notes ?? []), { kind: "post", body: { post, pulled: 1, kissed_off: 0 } });
  };

  presses(root, set, { pull, kissed: () => me.kissed(), back: () => me.takeBack(), repeated: () => show.say(`Again within ${set.guard} s: not counted`) });
  root.querySelector("[data-skip]")?.addEventListener("click", () => {
    for (const a of me.stand().due) if (a.notes) skipped.add(a.after);
    draw();
  });
  dialogs(root, me);
  timers(root, making, set);
  draw();
  line.start();
  awake(root, (text, href) => show.remark(text, href));
  revisits(root, (text, href) => show.remark(text, href));
  if (!keep.safe) show.remark("This browser keeps nothing on the device: with the network down, do not close this page.");
  void keep.forget(Date.now());
}

for (const root of document.querySelectorAll<HTMLElement>("[data-vat]")) void run(root);
