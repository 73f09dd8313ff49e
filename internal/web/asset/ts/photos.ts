// A form of photos says how much of it is sent. What comes back is shown as the
// browser itself would show it; where something was refused, it stands in the
// place of the form, and the files stay chosen. Without script the browser sends
// the form.

export function photos(root: ParentNode): void {
  for (const form of root.querySelectorAll<HTMLFormElement>("form[data-photos]")) {
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      send(form);
    });
  }
}

function send(form: HTMLFormElement): void {
  const box = form.querySelector<HTMLElement>("[data-progress]");
  const bar = box?.querySelector("progress");
  const words = box?.querySelector<HTMLElement>("[role=status]");
  const button = form.querySelector("button");
  if (!box || !bar || !words || !button) return form.submit();
  const say = (text: string) => { words.textContent = text; };
  const request = new XMLHttpRequest();
  request.open("POST", form.action);
  request.upload.onprogress = (e) => {
    if (!e.lengthComputable) return;
    bar.value = (100 * e.loaded) / e.total;
    say(e.loaded < e.total ? `${Math.floor(bar.value)} % sent` : "Sent; the photos are looked at.");
  };
  request.onload = () => {
    button.disabled = false;
    if (request.status === 200) return location.assign(request.responseURL);
    box.hidden = true;
    const page = new DOMParser().parseFromString(request.responseText, "text/html");
    const why = page.querySelector("#photos-said") ?? page.querySelector("main .lead");
    form.querySelector(".photos-why")?.remove();
    const place = document.createElement("div");
    place.className = "photos-why";
    place.setAttribute("role", "alert");
    if (why) place.append(...Array.from(why.childNodes, (node) => document.importNode(node, true)));
    else place.append("The photos were not kept. Send them once more.");
    form.prepend(place);
  };
  request.onerror = () => {
    button.disabled = false;
    say("The photos did not get through. They are still chosen: send them once more.");
  };
  box.hidden = false;
  button.disabled = true;
  request.send(new FormData(form));
}
