// Opening what a figure rests on fetches its sum into place. Without script the
// link leads to the page of the sum.

async function fill(box: HTMLDetailsElement, href: string): Promise<void> {
  const answer = await fetch(href, { headers: { Accept: "text/html" } });
  if (!answer.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const sum = page.querySelector("[data-sum-body]");
  if (!sum) return;
  for (const old of Array.from(box.children)) {
    if (old.tagName !== "SUMMARY") old.remove();
  }
  box.append(document.importNode(sum, true));
  delete box.dataset.sum;
}

export function sums(root: ParentNode): void {
  for (const box of root.querySelectorAll<HTMLDetailsElement>("details[data-sum]")) {
    box.addEventListener("toggle", () => {
      const href = box.dataset.sum;
      if (box.open && href) void fill(box, href).catch(() => undefined); // the link stays
    });
  }
}
