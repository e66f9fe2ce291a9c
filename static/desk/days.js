// Days and hours as the reader's own clock has them: the server writes those of UTC, where the evening is already the next day.
for (const time of document.querySelectorAll("time")) {
  const at = new Date(time.dateTime);
  if (Number.isNaN(at.getTime())) continue;
  const two = (/** @type {number} */ n) => `${n}`.padStart(2, "0");
  const day = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join("-");
  time.textContent = `${day} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
