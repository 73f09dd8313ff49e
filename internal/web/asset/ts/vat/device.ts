// What the browser allows: keeping the screen lit, and opening the page again
// without the network. Both need a secure address; where there is none the page
// says so before pulling starts.

// awake keeps the screen lit while the page is seen.
export function awake(root: HTMLElement): void {
  const out = root.querySelector("[data-lock]");
  const tell = (text: string) => { if (out) out.textContent = text; };
  const fallback = "The browser does not keep the screen lit here: set the device's own screen time to its longest, or leave it charging with the screen always on. A pedal or key press wakes nothing that is dark.";
  if (!("wakeLock" in navigator)) return tell(fallback);
  const ask = () => {
    if (document.visibilityState !== "visible") return;
    navigator.wakeLock.request("screen").then(() => tell("The screen stays lit while this page is open."), () => tell(fallback));
  };
  ask();
  document.addEventListener("visibilitychange", ask);
}

// revisits lets the page be opened again without the network, or says why not.
export function revisits(root: HTMLElement, remark: (text: string, href?: string) => void): void {
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.register("/vat-worker.js", { scope: "/makings/" }).then(() => navigator.serviceWorker.ready).then((r) => {
      const loaded = performance.getEntriesByType("resource").map((e) => new URL(e.name).pathname).filter((p) => p.startsWith("/asset/"));
      r.active?.postMessage({ keep: [location.pathname, ...loaded] });
    }).catch(() => refused());
    return;
  }
  refused();
  function refused(): void {
    remark("Keep this page open: without the network it cannot be loaded again at this address. What was counted stays on the device all the same.", root.dataset.secure);
  }
}
