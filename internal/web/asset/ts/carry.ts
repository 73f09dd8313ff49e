// Switching the units loads the page again. What was typed into a form with
// data-carry goes along, for that one reload only; a blank nobody touched is
// shown as the page has it in the new units.
import { arrange, order } from "./rows";
import { put, typed, type Blank, type Typed } from "./typed";

const prefix = "carry/";

interface Carried extends Typed {
  revision?: string; // that the whole form was typed over
  rows?: Record<string, string[]>; // of each list, in their order
}

export function carries(root: ParentNode): void {
  const form = root.querySelector<HTMLFormElement>("form[data-carry]");
  if (!form) return;
  const key = prefix + form.dataset.carry;
  const revision = form.querySelector<HTMLInputElement>('input[type="hidden"][name="revision"]');
  let whole = "kept" in form.dataset; // refused: all that stands there was typed
  const carried = take(key);
  if (carried) {
    if (carried.rows) arrange(form, carried.rows);
    put(form, carried);
    if (carried.revision !== undefined) {
      whole = true;
      if (revision) revision.value = carried.revision;
    }
  }
  root.querySelector<HTMLFormElement>("form.units")?.addEventListener("submit", () => {
    const going: Carried = typed(form, (b) => whole || touched(b));
    going.rows = order(form);
    if (whole) going.revision = revision?.value ?? "";
    try {
      sessionStorage.setItem(key, JSON.stringify(going));
    } catch {
      // Full or forbidden: the switch works without.
    }
  });
}

function take(key: string): Carried | undefined {
  try {
    const text = sessionStorage.getItem(key);
    sessionStorage.removeItem(key);
    return text ? JSON.parse(text) : undefined;
  } catch {
    return undefined;
  }
}

function touched(b: Blank): boolean {
  if (b instanceof HTMLSelectElement) return Array.from(b.options).some((o) => o.selected !== o.defaultSelected) && !untouched(b);
  if (b instanceof HTMLInputElement && (b.type === "radio" || b.type === "checkbox")) return b.checked !== b.defaultChecked;
  return b.value !== b.defaultValue;
}

// untouched: with no option marked, a browser chooses the first.
function untouched(b: HTMLSelectElement): boolean {
  return b.selectedIndex === 0 && !Array.from(b.options).some((o) => o.defaultSelected);
}
