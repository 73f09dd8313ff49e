// Small pieces of page that are made by the script.

export interface Row {
  key: string;
  text: string;
  buttons: [text: string, act: () => void, name?: string][];
  link?: string | undefined; // where more is told
}

// rows sets a list and leaves alone what stays: a button must not be replaced
// under the finger that presses it.
export function rows(box: Element | null, tag: string, list: Row[]): void {
  if (!box) return;
  const old = new Map(Array.from(box.children, (el) => [(el as HTMLElement).dataset.key ?? "", el]));
  const now = list.map((r) => old.get(r.key) ?? made(tag, r));
  for (const el of old.values()) if (!now.includes(el)) el.remove();
  now.forEach((el, i) => {
    if (box.children[i] !== el) box.insertBefore(el, box.children[i] ?? null);
    const span = el.firstElementChild, text = list[i]?.text ?? "";
    if (span && span.textContent !== text) span.textContent = text;
  });
}

function made(tag: string, r: Row): HTMLElement {
  const el = element(tag, "");
  el.dataset.key = r.key;
  el.append(element("span", r.text), " ");
  if (r.link) {
    const a = document.createElement("a");
    a.href = r.link;
    a.textContent = "How";
    el.append(a, " ");
  }
  for (const [text, act, name] of r.buttons) {
    const b = button(text, act);
    if (name) b.setAttribute("aria-label", name);
    el.append(b, " ");
  }
  return el;
}

export function element(tag: string, text: string): HTMLElement {
  const el = document.createElement(tag);
  el.textContent = text;
  return el;
}

export function button(text: string, act: () => void): HTMLButtonElement {
  const b = document.createElement("button");
  b.type = "button";
  b.textContent = text;
  b.addEventListener("click", act);
  return b;
}
