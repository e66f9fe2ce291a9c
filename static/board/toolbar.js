// A row of buttons that is one stop for Tab; arrows, Home and End go along it, and it remembers where one was.

/** `bar` holds the buttons. What the keys do here is done: nothing behind hears of them. */
export function oneStop(bar) {
  const all = [...bar.querySelectorAll("button")];

  function at(n) {
    all.forEach((button, i) => (button.tabIndex = i === n ? 0 : -1));
  }

  at(0);
  bar.addEventListener("focusin", (event) => all.includes(event.target) && at(all.indexOf(event.target)));
  bar.addEventListener("keydown", (event) => {
    const here = all.indexOf(event.target);
    const to = { ArrowRight: here + 1, ArrowDown: here + 1, ArrowLeft: here - 1, ArrowUp: here - 1, Home: 0, End: all.length - 1 }[event.key];
    if (here < 0 || to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    all[(to + all.length) % all.length].focus();
  });
}
