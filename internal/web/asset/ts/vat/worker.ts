// Opens the live page of a run where the network is down: the page as it was
// last, with its scripts and styles. Everything else goes to the program, and a
// page the program answers is always its own.

interface Later extends Event {
  waitUntil(p: Promise<unknown>): void;
}
interface Asked extends Later {
  readonly request: Request;
  respondWith(r: Promise<Response>): void;
}
interface Told extends Later {
  readonly data: { keep?: string[] };
}
declare const self: EventTarget & {
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
  readonly location: Location;
};

const store = "vat-1";
const live = /^\/makings\/[^/]+\/vat$/;
const patience = 4000; // ms until the kept page is taken instead

self.addEventListener("install", (e) => (e as Later).waitUntil(self.skipWaiting()));
self.addEventListener("activate", (e) => (e as Later).waitUntil(self.clients.claim()));

self.addEventListener("message", (e) => {
  const t = e as Told;
  t.waitUntil(Promise.all((t.data.keep ?? []).map((p) => fresh(p).catch(() => undefined))));
});

self.addEventListener("fetch", (e) => {
  const a = e as Asked;
  const url = new URL(a.request.url);
  if (a.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/asset/")) a.respondWith(kept(url.pathname).then((r) => r ?? fresh(url.pathname)));
  else if (a.request.mode === "navigate" && live.test(url.pathname)) a.respondWith(page(url.pathname));
});

async function page(path: string): Promise<Response> {
  const late = new Promise<undefined>((yes) => setTimeout(() => yes(undefined), patience));
  const now = fresh(path);
  const first = await Promise.race([now.catch(() => undefined), late]);
  if (first?.redirected) return Response.redirect(first.url); // such as to where a device is let in
  return first ?? (await kept(path)) ?? now;
}

async function kept(path: string): Promise<Response | undefined> {
  return (await caches.open(store)).match(path);
}

async function fresh(path: string): Promise<Response> {
  const r = await fetch(path, { credentials: "same-origin" });
  if (r.ok && !r.redirected) await (await caches.open(store)).put(path, r.clone());
  return r;
}

export {};
