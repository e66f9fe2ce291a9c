// Draws the frames of drags beside the page: the page says what has moved, the ink is put on canvases that it has handed over.
//
// Messages: {id, canvas} once for a figure; {id, take: {scene, view, ratio, dress, drag}} when a hand takes a line or what is shown
// changes; {id, line, of, angles?, meets?, since: ms since lines came to run alike} for each move; {id, gone}. Answers {ready} once, and
// {id, drag} when the first frame of a drag is drawn.
import { ink } from "./ink.js";
import { placeAll } from "./model.js";
import { viewOf } from "./view.js";

const figures = new Map(); // id → {canvas, context, scene, dress, ratio, drag, told, came, raf}

onmessage = ({ data }) => {
  if (data.canvas) {
    figures.set(data.id, { canvas: data.canvas, context: data.canvas.getContext("2d"), raf: 0 });
    return;
  }
  const figure = figures.get(data.id);
  if (!figure) return;
  if (data.gone) figures.delete(data.id);
  else if (data.take) take(figure, data.take);
  else moved(figure, data);
  if (figure.scene && !figure.raf) figure.raf = requestAnimationFrame(() => draw(data.id, figure));
};

function take(figure, { scene, view: { frame, width, height, unit }, ratio, dress, drag }) {
  const [w, h] = [Math.round(width * ratio), Math.round(height * ratio)];
  if (figure.canvas.width !== w || figure.canvas.height !== h) Object.assign(figure.canvas, { width: w, height: h });
  Object.assign(figure, { scene: { ...scene, view: viewOf(frame, width, height, unit) }, ratio, dress });
  if (figure.drag !== drag) Object.assign(figure, { drag, told: false, came: null });
}

function moved(figure, { line, of, angles, meets, since }) {
  const { model } = figure.scene;
  const next = { ...model, lines: { ...model.lines, [line]: of } };
  if (angles) next.angles = angles;
  if (meets) Object.assign(next, meets);
  figure.scene.model = placeAll(next);
  figure.came = since === null ? null : performance.now() - since;
}

function draw(id, figure) {
  figure.raf = 0;
  const { scene, came } = figure;
  scene.since = came === null ? null : performance.now() - came;
  const { laid, busy } = ink(figure.context, scene, figure.dress, figure.ratio);
  scene.last = laid;
  if (busy) figure.raf = requestAnimationFrame(() => draw(id, figure));
  if (figure.told) return;
  figure.told = true;
  postMessage({ id, drag: figure.drag });
}

postMessage({ ready: true });
