// Bare paper.

export function render() {
  return { update() {}, destroy() {} };
}
