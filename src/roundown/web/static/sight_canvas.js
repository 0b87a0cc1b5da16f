// A picture of what is seen, on a canvas: black on white, with grey for what is solid, as the drawings of the cards have it.

/** @typedef {import("./sight.js").Picture} Picture */

export const FILLS = {
  sea: "#e9e9e9", hull: "#9a9a9a", "deck side": "#6e6e6e", deck: "#fff", platform: "#444", island: "#bdbdbd", mast: "#444",
  "port wing": "#d0d0d0", "starboard wing": "#d0d0d0", nose: "#b4b4b4", wing: "#d0d0d0", body: "#c4c4c4", canopy: "#fff",
  tail: "#d0d0d0", leg: "#444",
};
const WITHOUT_EDGES = ["sea", "hull"];
export const INK = "#000";
const TEXT = 14; // px

/**
 * Paints a picture.
 * @param {HTMLCanvasElement} canvas @param {Picture | null} picture
 * @param {number} outside its side away from the ship, where the horizon is named: 1 right, -1 left
 * @param {boolean} named whether the ramp has its name beside it
 */
export function paint(canvas, picture, outside, named) {
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  const dot = canvas.width / (canvas.clientWidth || canvas.width);
  const { width, height } = canvas;
  pen.clearRect(0, 0, width, height);
  pen.font = `${TEXT * dot}px ${getComputedStyle(canvas).fontFamily}`;
  pen.lineJoin = "round";
  pen.strokeStyle = INK;
  if (!picture) {
    words(pen, "The wing does not carry it here.", [width / 2, height / 2], "center", dot);
    return;
  }
  const per = width / 2 / picture.half[0];
  const place = (/** @type {[number, number]} */ [right, up]) => [width / 2 + right * per, height / 2 - up * per];
  const line = (/** @type {[number, number][]} */ points, /** @type {number} */ weight) => {
    pen.beginPath();
    for (const point of points) pen.lineTo(...place(point));
    pen.lineWidth = weight * dot;
  };
  for (const { part, points, closed } of picture.shapes) {
    line(points, closed ? 0.8 : 0.4);
    if (closed) {
      pen.closePath();
      pen.fillStyle = FILLS[part];
      pen.fill();
    }
    if (!WITHOUT_EDGES.includes(part)) pen.stroke();
    if (part === "sea") {
      for (const piece of picture.horizon) {
        line(piece, 1.8);
        pen.stroke();
      }
    }
  }
  nameHorizon(pen, picture.horizon.map((piece) => piece.map(place)), outside, dot);
  const { ramp } = picture.marks;
  if (ramp) {
    const [x, y] = place([ramp.right, ramp.up]);
    pen.beginPath();
    pen.arc(x, y, 3 * dot, 0, 2 * Math.PI);
    pen.fillStyle = ramp.hiddenBy ? "#fff" : INK;
    pen.lineWidth = 1.4 * dot;
    pen.fill();
    pen.stroke();
    if (!named) return;
    const side = x > width / 2 ? -1 : 1;
    const down = y + 2 * TEXT * dot < height ? 1.4 * TEXT * dot : -0.7 * TEXT * dot;
    const text = ramp.hiddenBy ? `ramp, behind the ${ramp.hiddenBy}` : "ramp";
    words(pen, text, [x + side * 6 * dot, y + down], side > 0 ? "left" : "right", dot);
  }
}

/**
 * Words on white.
 * @param {CanvasRenderingContext2D} pen @param {string} text @param {[number, number]} at
 * @param {CanvasTextAlign} align @param {number} dot pixels of the canvas to one of the page
 */
function words(pen, text, [x, y], align, dot) {
  pen.textAlign = align;
  pen.strokeStyle = "#fff";
  pen.lineWidth = 4 * dot;
  pen.strokeText(text, x, y);
  pen.strokeStyle = INK;
  pen.fillStyle = INK;
  pen.fillText(text, x, y);
}

/**
 * The word along the line, at its end away from the ship.
 * @param {CanvasRenderingContext2D} pen @param {[number, number][][]} pieces @param {number} outside @param {number} dot
 */
function nameHorizon(pen, pieces, outside, dot) {
  const along = pieces.flat().sort((a, b) => outside * (b[0] - a[0]));
  if (along.length < 2) return;
  const [end, other] = [along[0], along[along.length - 1]];
  const length = Math.hypot(end[0] - other[0], end[1] - other[1]);
  if (length < 9 * TEXT * dot) return;
  const [x, y] = [(other[0] - end[0]) / length, (other[1] - end[1]) / length];
  pen.save();
  pen.translate(end[0] + 3.5 * TEXT * dot * x, end[1] + 3.5 * TEXT * dot * y);
  pen.rotate(Math.atan2(-outside * y, -outside * x));
  words(pen, "horizon", [0, -0.45 * TEXT * dot], "center", dot);
  pen.restore();
}
