// Pedal, clicker, keys and the large button. Wet hands press twice and a drop
// presses by itself, so the same press again within a settable time counts once;
// holding the button takes the last entry back.

import type { Settings } from "./setting";

export interface Acts {
  pull(): void;
  kissed(): void;
  back(): void;
  repeated(): void; // a press that did not count
}

const pulls = new Set([" ", "PageDown", "ArrowRight", "ArrowDown", "Enter", "MediaPlayPause", "AudioVolumeUp"]);
const kisses = new Set(["PageUp", "ArrowLeft", "ArrowUp", "AudioVolumeDown"]);
const backs = new Set(["Backspace", "Delete"]);
const pedals = new Set(["PageDown", "PageUp"]); // count whatever is open: who pulls does not see the screen
const hold = 900; // ms

export function presses(root: HTMLElement, set: Settings, acts: Acts): void {
  const button = root.querySelector<HTMLButtonElement>("[data-count]");
  const last = new Map<() => void, number>();
  // once lets an act pass that is none of a repeat.
  const once = (act: () => void) => {
    const now = performance.now();
    if (now - (last.get(act) ?? -Infinity) < set.guard * 1000) return acts.repeated();
    last.set(act, now);
    act();
  };
  if (button) holding(button, acts.back, () => once(acts.pull));
  root.querySelector("[data-kiss]")?.addEventListener("click", () => once(acts.kissed));

  document.addEventListener("keydown", (e) => {
    const act = pulls.has(e.key) ? acts.pull : kisses.has(e.key) ? acts.kissed : backs.has(e.key) ? acts.back : undefined;
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    if (!pedals.has(e.key)) {
      if (typing(e.target) || document.querySelector("dialog[open]")) return;
      // A control that has the focus keeps enter and space for itself.
      const on = e.target instanceof Element ? e.target.closest("button, a, summary") : null;
      if (on && on !== button && (e.key === " " || e.key === "Enter")) return;
    }
    e.preventDefault();
    if (e.repeat) return;
    if (act === acts.back) act();
    else once(act);
  });
  button?.addEventListener("keyup", (e) => { if (e.key === " ") e.preventDefault(); }); // it was counted going down

  // A finger leaves no focus behind: the pedal's space is a sheet, not the
  // button touched last.
  root.addEventListener("click", (e) => {
    if (e.detail > 0 && e.target instanceof Element && e.target.closest("button") && !e.target.closest("dialog") && !document.querySelector("dialog[open]")) button?.focus();
  });
  for (const d of root.querySelectorAll("dialog")) d.addEventListener("close", () => button?.focus());
}

// holding tells a press of the button from holding it.
function holding(button: HTMLElement, back: () => void, press: () => void): void {
  let timer: number | undefined;
  let held = false;
  const release = () => {
    clearTimeout(timer);
    timer = undefined;
    button.classList.remove("vat-held");
  };
  button.addEventListener("pointerdown", (e) => {
    if (e.button !== 0) return;
    held = false;
    button.classList.add("vat-held");
    timer = window.setTimeout(() => {
      held = true;
      release();
      back();
    }, hold);
  });
  for (const end of ["pointerup", "pointerleave", "pointercancel"]) button.addEventListener(end, release);
  button.addEventListener("contextmenu", (e) => e.preventDefault());
  button.addEventListener("click", () => {
    if (!held) press();
    held = false;
  });
}

function typing(t: EventTarget | null): boolean {
  return t instanceof Element && t.closest("input, select, textarea") !== null;
}
