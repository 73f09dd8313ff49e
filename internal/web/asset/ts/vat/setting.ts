// What a maker sets for this device: how soon a second press counts, and
// whether a count sounds or shakes.

export interface Settings {
  guard: number; // s
  click(): void;
}

const key = "vat/settings";

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
        if (Number.isFinite(v) && v >= 0 && v <= 60) s.guard = v;
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
  return {
    get guard() { return s.guard; },
    click() {
      if (s.shake) navigator.vibrate?.(40);
      if (s.sound) tick(audio ??= new AudioContext());
    },
  };
}

function tick(a: AudioContext): void {
  const o = a.createOscillator(), g = a.createGain();
  o.frequency.value = 660;
  g.gain.setValueAtTime(0.15, a.currentTime);
  g.gain.exponentialRampToValueAtTime(0.001, a.currentTime + 0.12);
  o.connect(g).connect(a.destination);
  o.start();
  o.stop(a.currentTime + 0.12);
}

function read(): object {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "{}") as object;
  } catch {
    return {};
  }
}
