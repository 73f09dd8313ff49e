// A form with data-design is answered while it is filled in: what it would do
// is fetched as a piece of the page and put in the place of the old answer. The
// form itself is never touched, so that cursor and keyboard stay.
import { slides } from "./slide";

const pause = 150; // ms after a key; a slide is answered while it moves

export function designs(root: ParentNode): void {
  const form = root.querySelector<HTMLFormElement>("form[data-design]");
  if (!form) return;
  slides(form);
  let timer = 0;
  let asking = false;
  let more = false;
  // One question at a time; what changes meanwhile is asked when that is answered.
  const ask = async () => {
    more = true;
    if (asking) return;
    asking = true;
    while (more) {
      more = false;
      const url = address(form);
      url.searchParams.set("only", "answer");
      try {
        const answer = await fetch(url, { headers: { Accept: "text/html" } });
        show(root, await answer.text());
      } catch {
        // Out of reach: the button still asks.
      }
    }
    asking = false;
    remember(address(form));
  };
  form.addEventListener("input", (event) => {
    const from = event.target;
    clearTimeout(timer);
    if (from instanceof Element && from.closest(".keep")) remember(address(form)); // changes no paper
    else timer = window.setTimeout(() => void ask(), from instanceof HTMLInputElement && from.type === "text" ? pause : 0);
  });
}

// address is that of the page with what is typed.
function address(form: HTMLFormElement): URL {
  const url = new URL(form.action, location.href);
  for (const [name, value] of new FormData(form)) url.searchParams.set(name, String(value));
  return url;
}

// remember keeps what is typed in the page's own address, for a reload and for
// the unit switch. Some browsers refuse an address that changes often; the next
// change writes it.
function remember(url: URL): void {
  const back = document.querySelector<HTMLInputElement>('form.units input[name="back"]');
  if (back) back.value = url.pathname + url.search;
  try {
    history.replaceState(null, "", url);
  } catch {
    // Refused: what is typed still stands in the form.
  }
}

// show puts the pieces of an answer where the old ones stand; anything else,
// such as a page that says what went wrong, is not an answer.
function show(root: ParentNode, text: string): void {
  const page = new DOMParser().parseFromString(text, "text/html");
  for (const fresh of page.querySelectorAll<HTMLElement>("[data-answer]")) {
    const old = root.querySelector<HTMLElement>(`[data-answer="${fresh.dataset.answer}"]`);
    old?.replaceChildren(...Array.from(document.importNode(fresh, true).childNodes));
  }
}
