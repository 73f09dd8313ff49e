// A number in a box with data-slide, "least most step", gets a slide beside it
// for fingers. The blank is what counts; the slide follows it and writes its
// number, and leaves a unit that is written behind it.

const number = /^[\s\d.,]*/;

export function slides(root: ParentNode): void {
  for (const box of root.querySelectorAll<HTMLElement>("[data-slide]")) {
    const blank = box.querySelector<HTMLInputElement>('input[type="text"]');
    const label = box.querySelector("label");
    const [least, most, step] = (box.dataset.slide ?? "").split(" ");
    if (!blank || !label || !step) continue;
    const slide = document.createElement("input");
    slide.type = "range";
    slide.min = least ?? "";
    slide.max = most ?? "";
    slide.step = step;
    slide.setAttribute("aria-label", `${label.firstChild?.textContent?.trim() ?? ""}, slide`);
    const follow = () => {
      slide.value = String(parseFloat(blank.value.replace(",", ".")) || 0);
    };
    follow();
    blank.addEventListener("input", follow);
    slide.addEventListener("input", () => {
      const unit = blank.value.replace(number, "");
      blank.value = unit ? `${slide.value} ${unit}` : slide.value;
    });
    blank.closest(".entry")?.append(slide);
  }
}
