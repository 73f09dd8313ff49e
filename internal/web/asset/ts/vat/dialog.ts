// What is noted besides sheets: spoilt, weighed, the vat itself, whole posts.

import type { Run } from "./vat";
import type { Note } from "./type";

export function dialogs(root: HTMLElement, run: Run): void {
  for (const b of root.querySelectorAll<HTMLElement>("[data-open]")) {
    b.addEventListener("click", () => open(root, run, b.dataset.open ?? ""));
  }
  for (const d of root.querySelectorAll<HTMLDialogElement>("dialog")) {
    d.querySelector("[data-close]")?.addEventListener("click", () => d.close());
    for (const pad of d.querySelectorAll<HTMLElement>("[data-pad]")) keypad(d, pad);
  }
  for (const b of root.querySelectorAll<HTMLElement>("[data-why]")) {
    b.addEventListener("click", () => {
      run.note({ kind: "spoilt", body: { sheets: 1, why: b.dataset.why } });
      b.closest("dialog")?.close();
    });
  }
  root.querySelector("[data-weigh]")?.addEventListener("change", (e) => ways(e.currentTarget as HTMLFormElement));
  submit(root, "[data-weigh]", (f) => weighed(f, run));
  submit(root, "[data-tub]", (f) => changed(f, run));
  submit(root, "[data-post]", (f) => posted(f));

  function submit(root: HTMLElement, which: string, read: (f: Blanks) => Note): void {
    const form = root.querySelector<HTMLFormElement>(which);
    form?.addEventListener("submit", (e) => {
      e.preventDefault();
      const wrong = form.querySelector<HTMLElement>("[data-wrong]");
      try {
        const note = read(new Blanks(form));
        if (wrong) wrong.hidden = true;
        run.note(note);
        form.reset();
        form.closest("dialog")?.close();
      } catch (fault) {
        if (!(fault instanceof Wrong) || !wrong) throw fault;
        wrong.textContent = fault.message;
        wrong.hidden = false;
        fault.blank?.focus();
      }
    });
  }
}

function open(root: HTMLElement, run: Run, which: string): void {
  const d = root.querySelector<HTMLDialogElement>(`[data-dialog="${which}"]`);
  if (!d) return;
  const s = run.stand();
  const set = (name: string, v: number | string) => {
    const el = d.querySelector<HTMLInputElement>(`input[name="${name}"]:not([type])`);
    if (el && el.value === "") el.value = String(v);
  };
  if (which === "weigh") {
    const form = d.querySelector<HTMLFormElement>("form");
    const way = d.querySelector<HTMLInputElement>(`[value="${s.tests > 0 ? "first" : s.inPost === 0 || (run.view.holds > 0 && s.post > 1) ? "parting" : "single"}"]`);
    if (way) way.checked = true;
    set("post", Math.max(1, s.inPost === run.view.holds ? s.post : s.post - 1));
    if (form) ways(form, s.tests, s.couched);
  }
  if (which === "more") set("post", s.post);
  d.showModal();
}

// ways shows the blanks of what lies on the scale.
function ways(form: HTMLFormElement, tests = 0, couched = 0): void {
  const way = new FormData(form).get("way") as string;
  for (const el of form.querySelectorAll<HTMLElement>("[data-for]")) el.hidden = !(el.dataset.for ?? "").split(" ").includes(way);
  const sheets = form.elements.namedItem("sheets") as HTMLInputElement, from = form.elements.namedItem("from") as HTMLInputElement;
  const usual = { first: tests || 3, single: 1, parting: 10 }[way];
  if (usual && !sheets.dataset.typed) sheets.value = String(usual);
  if (couched && from.value === "") from.value = String(couched);
  sheets.oninput = () => { sheets.dataset.typed = "yes"; };
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
      throw new Wrong(`${what}: ${kind} from ${low} to ${high}.`, this.form.querySelector(`[name="${name}"]`));
    }
    return v;
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
  const body: Record<string, unknown> = { sheets, grams: grams(), rh_pct: f.has("rh") ? f.number("rh", "Room humidity in per cent", 1, 90) : 0 };
  if (f.has("bone")) body["bone_dry"] = true;
  body["from"] = way === "single" ? f.number("from", "The first of these sheets", 1, Math.max(1, run.stand().couched), true) : 1;
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

function posted(f: Blanks): Note {
  const pulled = f.number("pulled", "Sheets pulled", 1, 1000, true);
  const kissed = f.has("kissed") ? f.number("kissed", "Of them kissed off", 0, pulled, true) : 0;
  return { kind: "post", body: { post: f.number("post", "Post", 1, 1000, true), pulled, kissed_off: kissed } };
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
