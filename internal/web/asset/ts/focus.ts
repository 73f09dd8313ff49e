// After a form was refused the summary of what is wrong takes the focus, and
// its links put the cursor into the field, not only beside it.

export function focusWrong(root: ParentNode): void {
  const summary = root.querySelector<HTMLElement>("[data-focus]");
  if (!summary) return;
  summary.focus();
  summary.addEventListener("click", (event) => {
    const link = (event.target as Element).closest<HTMLAnchorElement>("a[href^='#']");
    const field = link && document.getElementById(link.hash.slice(1));
    if (!field) return;
    event.preventDefault();
    const inside = field.querySelector<HTMLElement>("input:checked, input");
    (inside ?? field).focus();
    field.scrollIntoView({ block: "center" });
  });
}
