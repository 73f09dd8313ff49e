// On a form with many small blanks Enter goes on to the next one, as on an
// adding machine; on the last it reaches the button. Without script Enter
// sends the form, as everywhere.

const blanks = "input:not([type=hidden]):not([disabled]), select, textarea, [data-enter-last]";

export function enterGoesOn(root: ParentNode): void {
  for (const form of root.querySelectorAll<HTMLFormElement>("form[data-enter]")) {
    form.addEventListener("keydown", (event) => {
      const from = event.target as HTMLElement;
      if (event.key !== "Enter" || event.isComposing || !from.matches("input")) return;
      event.preventDefault();
      const list = Array.from(form.querySelectorAll<HTMLElement>(blanks)).filter((b) => reached(b, from));
      const next = list[list.indexOf(from) + 1];
      next?.focus();
      if (next instanceof HTMLInputElement && next.type === "text") next.select();
    });
  }
}

// reached says whether a blank is in sight; of a group of choices only one is
// stopped at, as with the tabulator.
function reached(b: HTMLElement, from: HTMLElement): boolean {
  if (b === from) return true;
  // What is folded away has a place on the page in some browsers all the same.
  if (b.getClientRects().length === 0 || b.closest("details:not([open])")) return false;
  if (!(b instanceof HTMLInputElement) || b.type !== "radio") return true;
  const group = Array.from(b.form?.querySelectorAll<HTMLInputElement>(`input[name="${b.name}"]`) ?? []);
  if (group.includes(from as HTMLInputElement)) return false;
  return b === (group.find((r) => r.checked) ?? group[0]);
}
