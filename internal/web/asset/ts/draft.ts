// What is typed into a form with data-draft is kept on this device until it is
// saved, so that neither a reload nor a failed save loses it. The page after
// the save names the form that was saved, and its draft goes.

import { put, typed, type Typed } from "./typed";

interface Draft extends Typed {
  form: string; // id of the form, which the records know it by
  seen: string;
  at: string;
}

const prefix = "draft/";

export function drafts(root: ParentNode): void {
  forget(root.querySelector<HTMLElement>("[data-saved]")?.dataset.saved);
  for (const form of root.querySelectorAll<HTMLFormElement>("form[data-draft]")) keep(form);
}

function forget(saved: string | undefined): void {
  if (!saved) return;
  for (const key of Object.keys(localStorage)) {
    if (key.startsWith(prefix) && read(key)?.form === saved) localStorage.removeItem(key);
  }
}

function read(key: string): Draft | undefined {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null") ?? undefined;
  } catch {
    return undefined; // not ours, or broken: nothing to bring back
  }
}

function hidden(form: HTMLFormElement, name: string): HTMLInputElement | null {
  return form.querySelector<HTMLInputElement>(`input[type="hidden"][name="${name}"]`);
}

function keep(form: HTMLFormElement): void {
  const key = prefix + form.dataset.draft;
  const draft = read(key);
  if (draft && !("kept" in form.dataset)) restore(form, draft);
  const write = () => {
    try {
      localStorage.setItem(key, JSON.stringify(taken(form)));
    } catch {
      // Full or forbidden: the form works without.
    }
  };
  if ("kept" in form.dataset) write(); // refused: what stands there was typed
  form.addEventListener("input", write);
  form.querySelector("[data-draft-drop]")?.addEventListener("click", () => {
    localStorage.removeItem(key);
    location.reload();
  });
}

function taken(form: HTMLFormElement): Draft {
  return {
    form: hidden(form, "form")?.value ?? "",
    seen: hidden(form, "seen")?.value ?? "",
    at: new Date().toISOString(),
    ...typed(form, () => true),
  };
}

function restore(form: HTMLFormElement, draft: Draft): void {
  put(form, draft);
  const id = hidden(form, "form");
  const seen = hidden(form, "seen");
  const since = seen && seen.value !== draft.seen ? "more was written down since" : "it is not saved yet";
  if (id && seen && draft.form) {
    id.value = draft.form;
    seen.value = draft.seen;
  }
  const text = form.querySelector("[data-draft-text]");
  const drop = form.querySelector<HTMLElement>("[data-draft-drop]");
  const at = new Date(draft.at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  if (text) text.textContent = `What you typed until ${at} is back; ${since}.`;
  if (drop) drop.hidden = false;
}
