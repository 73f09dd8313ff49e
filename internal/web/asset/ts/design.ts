// A form with data-design is answered while it is filled in: what it would do
// is fetched as a piece of the page and put in the place of the old answer. The
// form itself is never touched, so that cursor and keyboard stay.
import { slides } from "./slide";

const pause = 120; // ms after the last key or move

export function designs(root: ParentNode): void {
  const form = root.querySelector<HTMLFormElement>("form[data-design]");
  if (!form) return;
  slides(form);
  let timer = 0;
  let going: AbortController | undefined;
  const ask = async () => {
    going?.abort(); // the last answer wins
    const mine = (going = new AbortController());
    const url = new URL(form.action, location.href);
    for (const [name, value] of new FormData(form)) url.searchParams.set(name, String(value));
    remember(url);
    url.searchParams.set("only", "answer");
    try {
      const answer = await fetch(url, { headers: { Accept: "text/html" }, signal: mine.signal });
      const text = await answer.text();
      if (going === mine) show(root, text);
    } catch {
      // Asked again, or out of reach: the button still asks.
    }
  };
  form.addEventListener("input", (event) => {
    if (event.target instanceof Element && event.target.closest(".keep")) return; // changes no paper
    clearTimeout(timer);
    timer = window.setTimeout(() => void ask(), pause);
  });
}

// remember keeps what is typed in the page's own address, for a reload and for
// the unit switch.
function remember(url: URL): void {
  history.replaceState(null, "", url);
  const back = document.querySelector<HTMLInputElement>('form.units input[name="back"]');
  if (back) back.value = url.pathname + url.search;
}

function show(root: ParentNode, text: string): void {
  const page = new DOMParser().parseFromString(text, "text/html");
  for (const fresh of page.querySelectorAll<HTMLElement>("[data-answer]")) {
    const old = root.querySelector<HTMLElement>(`[data-answer="${fresh.dataset.answer}"]`);
    old?.replaceChildren(...Array.from(document.importNode(fresh, true).childNodes));
  }
}
