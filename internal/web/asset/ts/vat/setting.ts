// What a maker sets for this device: how soon a second press counts, and
// whether a count sounds or shakes.

export interface Settings {
  guard: number; // s
  click(): void;
  ring(): void;
}

const key = "vat/settings";
const longest = 60; // s

export function settings(root: HTMLElement): Settings {
  const s = { guard: 3, sound: false, shake: false, ...read() };
  let audio: AudioContext | undefined;
  for (const el of root.querySelectorAll<HTMLInputElement>("[data-set]")) {
    const name = el.dataset.set as "guard" | "sound" | "shake";
    if (name === "guard") el.value = String(s.guard);
    else el.checked = s[name];
    el.addEventListener("change", () => {
      if (name === "guard") {
        const v = Number(el.value.replace(",", "."));
        if (el.value.trim() !== "" && Number.isFinite(v) && v >= 0 && v <= longest) s.guard = v;
        el.value = String(s.guard);
      } else s[name] = el.checked;
      try {
        localStorage.setItem(key, JSON.stringify(s));
      } catch {
        // full or forbidden: it holds until the page is left
      }
      if (s.sound) audio ??= new AudioContext(); // allowed from a touch alone
    });
  }
  const sound = (times: number) => { if (s.sound) tick(audio ??= new AudioContext(), times); };
  return {
    get guard() { return s.guard; },
    click() {
      if (s.shake) navigator.vibrate?.(40);
      sound(1);
    },
    ring() {
      if (s.shake) navigator.vibrate?.([200, 100, 200]);
      sound(3);
    },
  };
}

function tick(a: AudioContext, times: number): void {
  for (let i = 0; i < times; i++) {
    const o = a.createOscillator(), g = a.createGain(), at = a.currentTime + i * 0.25;
    o.frequency.value = 660;
    g.gain.setValueAtTime(0.15, at);
    g.gain.exponentialRampToValueAtTime(0.001, at + 0.12);
    o.connect(g).connect(a.destination);
    o.start(at);
    o.stop(at + 0.12);
  }
}

function read(): object {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "{}") as object;
  } catch {
    return {};
  }
}
