// Where a tap may mean several things, a short list asks which.
import { say } from "../words/say.js";

/** A list beside `point` in `ground`. Answers `{close()}`. */
export function showList(ground, items, point, { onchoose, oncancel, onhover }) {
  const box = document.createElement("div");
  box.className = "figure-which";
  box.setAttribute("role", "group");
  box.setAttribute("aria-label", say("figure.which"));
  const title = document.createElement("p");
  title.className = "label";
  title.textContent = say("figure.which");
  box.append(title);
  for (const item of items) box.append(choice(textOf(item), () => onchoose(item), item));
  box.append(choice(say("figure.which_none"), oncancel, null));
  ground.append(box);
  const [w, h] = [ground.clientWidth, ground.clientHeight];
  box.style.left = `${Math.max(4, Math.min(point[0] + 14, w - box.offsetWidth - 4))}px`;
  box.style.top = `${Math.max(4, Math.min(point[1] - 20, h - box.offsetHeight - 4))}px`;
  box.querySelector("button").focus({ preventScroll: true });

  function choice(text, act, item) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "plain";
    button.textContent = text;
    button.addEventListener("click", act);
    for (const type of ["focus", "pointerenter"]) button.addEventListener(type, () => onhover(item));
    return button;
  }

  function leave(event) {
    if (!box.contains(event.target)) oncancel();
  }
  // Not the press that opened it.
  setTimeout(() => document.addEventListener("pointerdown", leave, true));
  return {
    close() {
      document.removeEventListener("pointerdown", leave, true);
      onhover(null);
      box.remove();
    },
  };
}

function textOf(item) {
  return item.kind === "angle" ? `∠${item.name}` : say(`figure.${item.kind}`, { name: item.name });
}
