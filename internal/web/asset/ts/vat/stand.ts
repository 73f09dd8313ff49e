// Where the run stands by the program's last word and what this device noted
// since: counted at once, whether the program hears of it or not.

import type { Act, Entry, View } from "./type";

export interface Stand {
  couched: number;
  kissed: number;
  spoilt: number;
  post: number;
  inPost: number;
  tests: number;
  due: Act[]; // before the next sheet
  later: Act[]; // after that
  next: Act | undefined; // the first of them
  waiting: number; // entries that the program has not
}

const patience = 3; // sheets after which nobody is reminded of weighing the first
export const feeds = new Set(["recharge", "run down"]);

export function stand(view: View, entries: Entry[], skipped: ReadonlySet<number>): Stand {
  const has = new Set(view.has);
  const void_ = new Set<string>();
  const known = new Map(entries.map((e) => [e.id, e]));
  for (const e of entries) {
    if (e.refused === undefined && e.corrects && e.body["void"] === true && !has.has(e.id)) void_.add(e.corrects);
  }
  const s: Stand = {
    couched: view.couched, kissed: view.kissed, spoilt: view.spoilt, post: view.post, inPost: view.inPost, tests: view.tests,
    due: [], later: [], next: undefined, waiting: 0,
  };
  let fed = -1;
  const count = (e: Entry, sign: number) => {
    const n = (key: string) => Number(e.body[key] ?? 0);
    switch (e.kind) {
      case "post": {
        const grown = sign * (n("pulled") - n("kissed_off"));
        s.couched += grown;
        s.kissed += sign * n("kissed_off");
        if (n("post") > s.post) {
          s.post = n("post");
          s.inPost = 0;
        }
        if (n("post") === s.post) s.inPost = Math.max(0, s.inPost + grown);
        break;
      }
      case "recharge":
      case "vat changed":
        if (sign > 0 && (n("stock_ml") > 0 || n("water_l") !== 0)) fed = Math.max(fed, s.couched);
        break;
      case "test weighed":
        if (n("from") <= 1) s.tests = 0;
        break;
      case "spoilt":
        s.spoilt += sign * n("sheets");
        break;
    }
  };
  for (const e of entries) {
    if (e.refused !== undefined) continue;
    if (!has.has(e.id)) {
      s.waiting++;
      if (!e.corrects && !void_.has(e.id)) count(e, 1);
    } else if (void_.has(e.id)) {
      const of = known.get(e.id);
      if (of) count(of, -1);
    }
  }
  s.couched = Math.max(0, s.couched);
  acts(s, view, fed, skipped);
  return s;
}

// acts sorts what is to be done into what is due now and what comes next.
function acts(s: Stand, view: View, fed: number, skipped: ReadonlySet<number>): void {
  const full = view.holds > 0 && s.inPost >= view.holds;
  for (const a of view.acts) {
    const late = s.couched - a.after;
    if (feeds.has(a.kind) && (fed >= a.after || skipped.has(a.after))) continue;
    if (a.kind === "weigh" && (s.tests === 0 || late > patience)) continue;
    if (a.kind === "press" && (late > 0 || (late === 0 && !full))) continue;
    if (late >= 0) s.due.push(a);
    else s.later.push(a);
  }
  s.next = s.later[0];
}
