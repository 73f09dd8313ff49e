// What is noted besides sheets: spoilt, weighed, the vat itself, whole posts.

import type { Run } from "./vat";
import { feeds } from "./stand";
import type { Act, Note } from "./type";

export function dialogs(root: HTMLElement, run: Run): void {
  for (const b of root.querySelectorAll<HTMLElement>("[data-open]")) {
    b.addEventListener("click", () => open(root, run, b.dataset.open ?? ""));
  }
  for (const d of root.querySelectorAll<HTMLDialogElement>("dialog")) {
    d.addEventListener("input", (e) => { if (e.target instanceof HTMLInputElement) e.target.dataset.typed = "yes"; });
    for (const b of d.querySelectorAll("[data-close]")) b.addEventListener("click", () => shut(root, d));
    for (const pad of d.querySelectorAll<HTMLElement>("[data-pad]")) keypad(d, pad);
  }
  for (const b of root.querySelectorAll<HTMLElement>("[data-why]")) {
    b.addEventListener("click", () => {
      run.note({ kind: "spoilt", body: { sheets: 1, why: b.dataset.why } });
      shut(root, b.closest("dialog"));
    });
  }
  root.querySelector("[data-weigh]")?.addEventListener("change", (e) => ways(e.currentTarget as HTMLFormElement));
  submit(root, "[data-weigh]", (f) => [weighed(f, run)]);
  submit(root, "[data-tub]", (f) => [changed(f, run)]);
  submit(root, "[data-post]", (f) => posted(f, run));
  root.querySelector("[data-post]")?.addEventListener("input", (e) => told(e.currentTarget as HTMLFormElement, run));

  function submit(root: HTMLElement, which: string, read: (f: Blanks) => Note[]): void {
    const form = root.querySelector<HTMLFormElement>(which);
    form?.addEventListener("submit", (e) => {
      e.preventDefault();
      const wrong = form.querySelector<HTMLElement>("[data-wrong]");
      try {
        const notes = read(new Blanks(form));
        if (wrong) wrong.hidden = true;
        run.note(...notes);
        form.reset();
        for (const el of form.querySelectorAll("input")) delete el.dataset.typed;
        shut(root, form.closest("dialog"));
      } catch (fault) {
        if (!(fault instanceof Wrong) || !wrong) throw fault;
        wrong.textContent = fault.message;
        wrong.hidden = false;
        for (const el of form.querySelectorAll("[aria-invalid]")) el.removeAttribute("aria-invalid");
        fault.blank?.setAttribute("aria-invalid", "true");
        fault.blank?.focus();
      }
    });
  }
}

// shut leaves the focus on the button: the pedal's next space is a sheet.
function shut(root: HTMLElement, d: HTMLDialogElement | null): void {
  d?.close();
  root.querySelector<HTMLElement>("[data-count]")?.focus();
}

function open(root: HTMLElement, run: Run, which: string): void {
  const d = root.querySelector<HTMLDialogElement>(`[data-dialog="${which}"]`);
  if (!d) return;
  const s = run.stand();
  // what is likely stands there already, unless the maker typed something else
  const set = (name: string, v: number) => {
    const el = d.querySelector<HTMLInputElement>(`input[name="${name}"]`);
    if (el && !el.dataset.typed) el.value = String(v);
  };
  if (which === "weigh") {
    const form = d.querySelector<HTMLFormElement>("form");
    const way = d.querySelector<HTMLInputElement>(`[value="${s.tests > 0 ? "first" : s.inPost === 0 || (run.view.holds > 0 && s.post > 1) ? "parting" : "single"}"]`);
    if (way) way.checked = true;
    set("post", Math.max(1, s.inPost === run.view.holds ? s.post : s.post - 1));
    set("from", Math.max(1, s.couched));
    if (form) ways(form, s.tests);
  }
  if (which === "more") {
    set("post", run.view.holds > 0 && s.inPost >= run.view.holds ? s.post + 1 : s.post);
    const form = d.querySelector<HTMLFormElement>("form");
    if (form) told(form, run);
  }
  d.showModal();
}

// ways shows the blanks of what lies on the scale.
function ways(form: HTMLFormElement, tests = 0): void {
  const way = new FormData(form).get("way") as string;
  for (const el of form.querySelectorAll<HTMLElement>("[data-for]")) el.hidden = !(el.dataset.for ?? "").split(" ").includes(way);
  const sheets = form.elements.namedItem("sheets") as HTMLInputElement;
  if (tests > 0) form.dataset.tests = String(tests);
  const usual = { first: Number(form.dataset.tests ?? 3), single: 1, parting: 10 }[way];
  if (usual && !sheets.dataset.typed) sheets.value = String(usual);
}

// due are the recharges that were told for sheets counted by post, the first
// pulled of them not yet counted.
function due(run: Run, net: number): Act[] {
  const s = run.stand();
  return [...s.due, ...s.later].filter((a) => feeds.has(a.kind) && a.notes && a.after < s.couched + net);
}

// told asks whether they were poured.
function told(form: HTMLFormElement, run: Run): void {
  const f = new Blanks(form), label = form.querySelector<HTMLElement>("[data-fed]");
  const n = due(run, Math.max(0, (Number(f.text("pulled")) || 0) - (Number(f.text("kissed")) || 0))).length;
  if (!label) return;
  label.hidden = n === 0;
  const span = label.querySelector("span");
  if (span) span.textContent = n === 1 ? "the recharge told for them was poured" : `the ${n} recharges told for them were poured`;
}

class Wrong extends Error {
  constructor(text: string, readonly blank: HTMLElement | null) {
    super(text);
  }
}

// Blanks reads a form's numbers, with decimal point or comma.
class Blanks {
  constructor(private readonly form: HTMLFormElement) {}

  text(name: string): string {
    return String(new FormData(this.form).get(name) ?? "").trim();
  }

  number(name: string, what: string, low: number, high: number, whole = false): number {
    const text = this.text(name).replace(",", ".");
    const v = Number(text);
    if (text === "" || !Number.isFinite(v) || v < low || v > high || (whole && !Number.isInteger(v))) {
      const kind = whole ? "a whole number" : "a number";
      throw this.wrong(name, `${what}: ${kind} from ${low} to ${high.toLocaleString("en")}.`);
    }
    return v;
  }

  wrong(name: string, text: string): Wrong {
    return new Wrong(text, this.form.querySelector(`[name="${name}"]`));
  }

  has(name: string): boolean {
    return this.text(name) !== "";
  }
}

function weighed(f: Blanks, run: Run): Note {
  const way = f.text("way");
  const grams = () => f.number("grams", "Weight in grams", 0.01, 100_000);
  if (way === "litre") return { kind: "vat strained", body: { taken_l: f.number("taken", `Taken, ${run.view.volume}`, 0.01, 5000) * run.view.litre, grams: grams() } };
  const sheets = f.number("sheets", "Sheets", 1, 1000, true);
  if (way === "parting") return { kind: "weighed at parting", body: { post: f.number("post", "Post", 1, 1000, true), sheets, grams: grams() } };
  const couched = run.stand().couched;
  const from = way === "single" ? f.number("from", "The first of these sheets", 1, Math.max(1, couched), true) : 1;
  if (from + sheets - 1 > couched) throw f.wrong("sheets", `Only ${couched} ${couched === 1 ? "sheet is" : "sheets are"} counted so far.`);
  const body: Record<string, unknown> = { sheets, from, grams: grams(), rh_pct: f.has("rh") ? f.number("rh", "Humidity in per cent", 1, 90) : 0 };
  if (f.has("bone")) body["bone_dry"] = true;
  return { kind: "test weighed", body };
}

const volumes = new Set(["level_l", "water_in", "water_off", "stock_off_l", "heel_l"]);

function changed(f: Blanks, run: Run): Note {
  const what = f.text("what");
  const read = f.number("amount", "How much", what === "temp_c" ? 0 : 0.001, what === "temp_c" ? 60 : 100_000);
  const v = volumes.has(what) ? read * run.view.litre : read;
  switch (what) {
    case "stock_ml":
      return { kind: "recharge", body: { after_sheet: run.stand().couched, stock_ml: v } };
    case "water_in":
      return { kind: "vat changed", body: { water_l: v } };
    case "water_off":
      return { kind: "vat changed", body: { water_l: -v } };
    default:
      return { kind: "vat changed", body: { [what]: v } };
  }
}

// posted counts a post as a whole, or, where it was recharged on the way, piece
// by piece, so that each recharge stands where it was poured.
function posted(f: Blanks, run: Run): Note[] {
  const post = f.number("post", "Post", 1, 1000, true);
  let pulled = f.number("pulled", "Sheets pulled", 1, 1000, true);
  const kissed = f.has("kissed") ? f.number("kissed", "Kissed off", 0, pulled, true) : 0;
  const notes: Note[] = [];
  const count = (n: number, kissed_off = 0) => { if (n > 0) notes.push({ kind: "post", body: { post, pulled: n, kissed_off } }); };
  let at = run.stand().couched;
  for (const a of f.has("fed") ? due(run, pulled - kissed) : []) {
    const before = Math.max(0, a.after - at);
    count(before);
    notes.push(...(a.notes ?? []));
    at += before;
    pulled -= before;
  }
  count(pulled, kissed);
  return notes;
}

// keypad types into the blank that was touched last.
function keypad(d: HTMLDialogElement, pad: HTMLElement): void {
  let blank: HTMLInputElement | undefined;
  d.addEventListener("focusin", (e) => {
    if (e.target instanceof HTMLInputElement && e.target.inputMode !== "") blank = e.target;
  });
  for (const key of ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"]) {
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = key;
    if (key === "⌫") b.setAttribute("aria-label", "Delete");
    b.addEventListener("click", () => {
      blank ??= d.querySelector<HTMLInputElement>('[name="grams"], [name="amount"]') ?? undefined;
      if (!blank) return;
      blank.value = key === "⌫" ? blank.value.slice(0, -1) : blank.value + key;
      blank.dispatchEvent(new Event("input", { bubbles: true }));
    });
    pad.append(b);
  }
}
