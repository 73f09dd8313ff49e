// Timers that survive a reload: each is the time at which it ends, and rings
// until it is touched.

import { rows, type Row } from "./row";
import type { Settings } from "./setting";

interface Timer {
  name: string;
  ends: number; // ms since 1970
}

export function timers(root: HTMLElement, making: string, set: Settings): void {
  const key = `vat/timers/${making}`;
  let list: Timer[] = read(key);
  const rung = new Set<Timer>();
  const keep = () => {
    try {
      localStorage.setItem(key, JSON.stringify(list));
    } catch {
      // they run until the page is left
    }
    draw();
  };
  const draw = () => {
    const now = Date.now();
    const row = (t: Timer, button: string): Row => ({
      key: `${t.name} ${t.ends}`, text: t.ends <= now ? `${t.name}: time is up.` : `${t.name}: ${left(t.ends - now)}`,
      buttons: [[button, () => { list = list.filter((o) => o !== t); keep(); }, `${button}: ${t.name}`]],
    });
    for (const t of list) {
      if (t.ends > now || rung.has(t)) continue;
      rung.add(t);
      set.ring();
    }
    rows(root.querySelector("[data-rings]"), "p", list.filter((t) => t.ends <= now).map((t) => row(t, "Understood")));
    rows(root.querySelector("[data-timers]"), "p", list.filter((t) => t.ends > now).map((t) => row(t, "Stop")));
    const clocks = root.querySelector("[data-clocks]"), text = list.filter((t) => t.ends > now).map((t) => `${t.name} ${left(t.ends - now)}`).join(" · ");
    if (clocks && clocks.textContent !== text) clocks.textContent = text;
  };
  for (const b of root.querySelectorAll<HTMLElement>("[data-timer]")) {
    b.addEventListener("click", () => {
      list.push({ name: b.dataset.timer ?? "", ends: Date.now() + Number(b.dataset.minutes) * 60_000 });
      keep();
    });
  }
  draw();
  setInterval(() => { if (list.length) draw(); }, 1000);
}

function left(ms: number): string {
  const s = Math.ceil(ms / 1000);
  return s >= 3600 ? `${Math.floor(s / 3600)} h ${Math.floor((s % 3600) / 60)} min` : `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}

function read(key: string): Timer[] {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "[]") as Timer[];
  } catch {
    return [];
  }
}
