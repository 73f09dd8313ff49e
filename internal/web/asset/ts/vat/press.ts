// Pedal, clicker, keys and the large button. Wet hands press twice and a drop
// presses by itself, so repeats within a settable time count once; holding the
// button takes the last entry back.

import type { Settings } from "./setting";

export interface Acts {
  pull(): void;
  kissed(): void;
  back(): void;
}

const pulls = new Set([" ", "PageDown", "ArrowRight", "ArrowDown", "Enter", "MediaPlayPause", "AudioVolumeUp"]);
const kisses = new Set(["PageUp", "ArrowLeft", "ArrowUp", "AudioVolumeDown"]);
const backs = new Set(["Backspace", "Delete"]);
const hold = 900; // ms

export function presses(root: HTMLElement, set: Settings, acts: Acts): void {
  let last = -Infinity;
  // once lets an act pass that is none of a repeat.
  const once = (act: () => void) => {
    const now = performance.now();
    if (now - last < set.guard * 1000) return;
    last = now;
    act();
  };

  const button = root.querySelector<HTMLButtonElement>("[data-count]");
  let timer: number | undefined;
  let held = false;
  const release = () => {
    clearTimeout(timer);
    timer = undefined;
    button?.classList.remove("vat-held");
  };
  button?.addEventListener("pointerdown", (e) => {
    if (e.button !== 0) return;
    held = false;
    button.classList.add("vat-held");
    timer = window.setTimeout(() => {
      held = true;
      release();
      acts.back();
    }, hold);
  });
  for (const end of ["pointerup", "pointerleave", "pointercancel"]) button?.addEventListener(end, release);
  button?.addEventListener("contextmenu", (e) => e.preventDefault());
  button?.addEventListener("click", (e) => {
    if (held) {
      held = false;
      return;
    }
    if (e.detail === 0) return; // by keyboard: the key itself was counted
    once(acts.pull);
  });
  root.querySelector("[data-kiss]")?.addEventListener("click", () => once(acts.kissed));

  document.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey || typing(e.target) || document.querySelector("dialog[open]")) return;
    const act = pulls.has(e.key) ? acts.pull : kisses.has(e.key) ? acts.kissed : backs.has(e.key) ? acts.back : undefined;
    if (!act) return;
    // A control that has the focus keeps enter and space for itself.
    const on = e.target instanceof Element ? e.target.closest("button, a, summary") : null;
    if (on && on !== button && (e.key === " " || e.key === "Enter")) return;
    e.preventDefault();
    if (e.repeat) return;
    if (act === acts.back) act();
    else once(act);
  });
}

function typing(t: EventTarget | null): boolean {
  return t instanceof Element && t.closest("input, select, textarea") !== null;
}
