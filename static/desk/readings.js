// What the Desk makes of the state it is sent: who is here, who is stuck, in what order to list them. Pure; no page.

/** Numbers of the room: in it, here now, stuck, waiting for a nod. */
export function count(seats) {
  return {
    all: seats.length,
    here: seats.filter((seat) => seat.online).length,
    stuck: seats.filter((seat) => seat.stuck).length,
    pending: seats.filter((seat) => seat.pending).length,
  };
}

/** What a seat is called: its name, or the alias that others see while a typed name waits for the nod or is hidden. */
export function label(seat) {
  if (seat.pending || seat.hidden || !seat.name) return seat.alias ?? (seat.number ? `${seat.number}` : "–");
  return seat.name;
}

/** How badly a seat is stuck, for ordering: the number in its word ("stuck 3 min", "4 tries"). */
function waited(seat) {
  return seat.stuck ? 1 + Number(/\d+/.exec(seat.stuck)?.[0] ?? 0) : 0;
}

const COLUMNS = {
  place: (a, b) => (a.number ?? 1e9) - (b.number ?? 1e9) || label(a).localeCompare(label(b)),
  task: (a, b) => (a.order ?? 0) - (b.order ?? 0),
  done: (a, b) => a.done - b.done,
  stuck: (a, b) => waited(b) - waited(a),
};

/** The seats in the order of one column of the list; `down` turns it round. Equal ones keep the order of their places. */
export function sorted(seats, column, down = false) {
  const by = COLUMNS[column] ?? COLUMNS.place;
  const order = [...seats].sort((a, b) => by(a, b) || COLUMNS.place(a, b));
  return down ? order.reverse() : order;
}

/** Every task of the plan in order, hidden parts left out: [{id, kind, title, part}]. */
export function tasks(parts) {
  return parts
    .filter((part) => !part.hidden)
    .flatMap((part) => part.tasks.map((task) => ({ ...task, part: part.title })));
}

/** The task after (or before) `id` in the plan; null at either end. */
export function beside(parts, id, by) {
  const all = tasks(parts);
  const at = all.findIndex((task) => task.id === id);
  if (at < 0) return by > 0 ? (all[0] ?? null) : null;
  return all[at + by] ?? null;
}
