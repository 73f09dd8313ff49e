// What was typed into a form, taken out of it and put back into the same form,
// which may be shown in other units by then.

export interface Typed {
  system: string; // of units
  values: Record<string, string>;
  units: Record<string, string>; // of a bare number in a blank
  places: Record<string, number>; // of a choice among its group
}

export type Blank = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

function blanks(form: HTMLFormElement): Blank[] {
  return Array.from(form.elements).filter(
    (e): e is Blank => (e instanceof HTMLInputElement && e.type !== "hidden") || e instanceof HTMLTextAreaElement || e instanceof HTMLSelectElement,
  );
}

function group(form: HTMLFormElement, name: string): HTMLInputElement[] {
  return blanks(form).filter((b): b is HTMLInputElement => b instanceof HTMLInputElement && b.type === "radio" && b.name === name);
}

export function typed(form: HTMLFormElement, wanted: (b: Blank) => boolean): Typed {
  const out: Typed = { system: form.dataset.system ?? "", values: {}, units: {}, places: {} };
  for (const b of blanks(form)) {
    if (!wanted(b)) continue;
    if (b instanceof HTMLInputElement && b.type === "radio") {
      if (!b.checked) continue;
      out.values[b.name] = b.value;
      out.places[b.name] = group(form, b.name).indexOf(b);
    } else if (b instanceof HTMLInputElement && b.type === "checkbox") out.values[b.name] = b.checked ? b.value : "";
    else out.values[b.name] = b.value;
    if (b.dataset.unit) out.units[b.name] = b.dataset.unit;
  }
  return out;
}

// withUnit says what a bare number, or two sides, meant where it was typed: the
// units were switched since, and a unit that is written always wins.
function withUnit(value: string, unit: string | undefined): string {
  return unit && /^[\d\s.,/x×X]*\d[\d\s.,/x×X]*$/.test(value) ? `${value.trim()} ${unit}` : value;
}

export function put(form: HTMLFormElement, from: Typed): void {
  for (const b of blanks(form)) {
    const value = from.values[b.name];
    if (value === undefined) continue;
    if (b instanceof HTMLInputElement && b.type === "radio") {
      // The same choice may have another value in other units: a jack's tons.
      const choices = group(form, b.name);
      const same = choices.find((c) => c.value === value) ?? choices[from.places?.[b.name] ?? -1];
      if (same) b.checked = b === same;
    } else if (b instanceof HTMLInputElement && b.type === "checkbox") b.checked = b.value === value;
    else b.value = from.system === form.dataset.system ? value : withUnit(value, from.units[b.name]);
    const fold = b.closest("details");
    if (fold && value !== "") fold.open = true;
  }
}
