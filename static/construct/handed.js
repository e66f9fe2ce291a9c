// A constructed parallel pulled into a later task: the student's own figure in place of the task's, where the two fit. Pure.

/**
 * What `carry.get("constructed")` holds, if the task's figure has the same lines and angles by name (l, m, t; 1 to 8): then
 * {figure, given, marks}, else null.
 */
export function handed(carried, task) {
  if (!carried?.figure || !task?.figure) return null;
  const names = (part) => Object.keys(part ?? {}).sort().join(" ");
  const fits = names(carried.figure.lines) === names(task.figure.lines) && names(carried.figure.angles) === names(task.figure.angles);
  return fits ? { figure: carried.figure, given: carried.given ?? [], marks: carried.marks ?? {} } : null;
}
