// Lists of things in a form with data-rows: adding one and moving one up or
// down happens at once. Without script the same buttons ask the server.

// addRow puts a new row at the end of a list; its number is one that no row has.
function addRow(list: HTMLElement, number?: string): HTMLElement | undefined {
  const form = list.closest("form");
  const key = list.dataset.list ?? "";
  const fresh = form?.querySelector<HTMLTemplateElement>(`template[data-new="${key}"]`);
  const row = fresh?.content.firstElementChild?.cloneNode(true);
  if (!(row instanceof HTMLElement)) return undefined;
  const next = number ?? String(1 + Math.max(0, ...numbers(list).map(Number)));
  for (const e of [row, ...Array.from(row.querySelectorAll("*"))]) {
    for (const a of Array.from(e.attributes)) {
      a.value = a.value.split(`${key}-0-`).join(`${key}-${next}-`).split(`${key}.0.`).join(`${key}.${next}.`);
    }
  }
  const hidden = row.querySelector<HTMLInputElement>(`input[type="hidden"][name="${key}"]`);
  if (hidden) hidden.value = next;
  list.append(row);
  return row;
}

function numbers(list: HTMLElement): string[] {
  return Array.from(list.querySelectorAll<HTMLInputElement>(`input[type="hidden"][name="${list.dataset.list}"]`)).map((i) => i.value);
}

// order is every list's rows by their numbers, for arrange to bring back.
export function order(form: HTMLFormElement): Record<string, string[]> {
  const out: Record<string, string[]> = {};
  for (const list of form.querySelectorAll<HTMLElement>("[data-list]")) out[list.dataset.list ?? ""] = numbers(list);
  return out;
}

export function arrange(form: HTMLFormElement, rows: Record<string, string[]>): void {
  for (const list of form.querySelectorAll<HTMLElement>("[data-list]")) {
    for (const n of rows[list.dataset.list ?? ""] ?? []) {
      const row = list.querySelector<HTMLElement>(`input[type="hidden"][name="${list.dataset.list}"][value="${CSS.escape(n)}"]`)?.closest("li");
      if (row) list.append(row);
      else addRow(list, n);
    }
  }
}

function move(button: HTMLElement, way: string, told: Element | null | undefined): void {
  const row = button.closest("li");
  if (!row) return;
  if (way === "up") row.previousElementSibling?.before(row);
  else row.nextElementSibling?.after(row);
  const rows = Array.from(row.parentElement?.children ?? []);
  if (told) told.textContent = `Now number ${rows.indexOf(row) + 1} of ${rows.length}.`;
  // A row that has come to the end has no way further on: its other button has.
  if (button.offsetParent) button.focus();
  else row.querySelector<HTMLElement>(way === "up" ? ".down" : ".up")?.focus();
}

export function rows(root: ParentNode): void {
  const form = root.querySelector<HTMLFormElement>("form[data-rows]");
  form?.addEventListener("click", (event) => {
    const button = (event.target as Element).closest<HTMLButtonElement>('button[name="do"]');
    const [key, number, way] = button?.value.split(".") ?? [];
    const list = form.querySelector<HTMLElement>(`[data-list="${key}"]`);
    if (!button || !list) return;
    const told = list.parentElement?.querySelector("[data-told]");
    if (number === "add") {
      event.preventDefault();
      list.parentElement?.querySelector("[data-unsaid]")?.remove();
      addRow(list)?.querySelector<HTMLElement>("input:not([type=hidden])")?.focus();
    } else if (way === "up" || way === "down") {
      event.preventDefault();
      move(button, way, told);
    }
  });
}
