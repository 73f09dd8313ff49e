// Timers that survive a reload: each is the time at which it ends.

import { button, element } from "./show";

interface Timer {
  name: string;
  ends: number; // ms since 1970
  rung?: boolean;
}

export function timers(root: HTMLElement, making: string): void {
  const key = `vat/timers/${making}`;
  const box = root.querySelector("[data-timers]");
  let list: Timer[] = read(key);
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
    for (const t of list) {
      if (!t.rung && t.ends <= now) {
        t.rung = true;
        navigator.vibrate?.([200, 100, 200]);
        ring(root, t.name);
        keep();
      }
    }
    box?.replaceChildren(...list.map((t) => {
      const p = element("p", `${t.name}: ${left(t.ends - now)} `);
      p.append(button(t.rung ? "Done" : "Stop", () => { list = list.filter((o) => o !== t); keep(); }));
      return p;
    }));
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

// ring shows the timer above everything until it is touched.
function ring(root: HTMLElement, name: string): void {
  const p = element("p", `${name}: time is up. `);
  p.setAttribute("role", "alert");
  p.className = "vat-ring";
  p.append(button("Understood", () => p.remove()));
  root.querySelector(".vat-say")?.before(p);
}

function left(ms: number): string {
  if (ms <= 0) return "time is up";
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
