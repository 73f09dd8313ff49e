// What the browser allows: keeping the screen lit, and opening the page again
// without the network. Both need a secure address; where there is none the page
// says so before pulling starts.

type Remark = (text: string, href?: string) => void;

const dark = "Set the screen time of this device to its longest: at this address the browser does not keep the screen lit.";
const once = "Keep this page open: at this address the browser cannot open it again without the network. What was counted stays on the device all the same.";

// awake keeps the screen lit while the page is seen.
export function awake(root: HTMLElement, remark: Remark): void {
  const tell = (text: string) => { for (const el of root.querySelectorAll("[data-lock]")) el.textContent = text; };
  if (!("wakeLock" in navigator)) {
    tell(dark);
    return remark(dark, root.dataset.secure);
  }
  const ask = () => {
    if (document.visibilityState !== "visible") return;
    navigator.wakeLock.request("screen").then(() => tell("The screen stays lit while this page is open."), () => tell("The browser does not keep the screen lit just now: set the screen time of this device to its longest."));
  };
  ask();
  document.addEventListener("visibilitychange", ask);
}

// revisits lets the page be opened again without the network, or says why not.
export function revisits(root: HTMLElement, remark: Remark): void {
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.register("/vat-worker.js", { scope: "/makings/" }).then(() => navigator.serviceWorker.ready).then((r) => {
      const loaded = performance.getEntriesByType("resource").map((e) => new URL(e.name).pathname).filter((p) => p.startsWith("/asset/"));
      r.active?.postMessage({ keep: [location.pathname, ...loaded] });
    }).catch(() => refused());
    return;
  }
  refused();
  function refused(): void {
    for (const el of root.querySelectorAll("[data-again]")) el.textContent = once;
    remark(once, root.dataset.secure);
  }
}
