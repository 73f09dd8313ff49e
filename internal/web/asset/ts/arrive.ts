// While a code is on offer the page looks every few seconds whether the device
// has come in, and then shows the list anew. Without script a link does that.

const every = 3000; // ms

export function arrivals(root: ParentNode): void {
  const offer = root.querySelector<HTMLElement>("[data-arrive]");
  if (!offer) return;
  const timer = window.setInterval(() => {
    if (!document.hidden) void look(offer, timer);
  }, every);
}

async function look(offer: HTMLElement, timer: number): Promise<void> {
  try {
    const answer = await fetch(location.pathname, { headers: { Accept: "text/html" } });
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const now = page.querySelector<HTMLElement>("[data-arrive]");
    if (now && now.dataset.arrive === offer.dataset.arrive) return;
  } catch {
    return; // the program is being started anew; looked at again
  }
  window.clearInterval(timer);
  location.replace(location.pathname);
}
