// What the pilot and the signal officer see at any instant of a pass, as outlines on an image plane. From the plain data of
// cards/sight_data.py by the formulas of docs/method/sight.md: metres, radians, seconds from the break; vectors are
// (forward, to port, up).

/** @typedef {[number, number, number]} Vector */
/** @typedef {Vector[]} Rows of a frame's axes: forward, port, up */
/** @typedef {{part: string, corners: Vector[]}} Face */
/** @typedef {{time: number, ahead: number, port: number, height: number, heading: number, pitch: number, bank: number,
 *   look_azimuth: number, look_elevation: number}} Instant an angle that is not known is NaN */
/** @typedef {{reach: number, near: number, hand: number, deck_height: number,
 *   field: {pilot: {width: number, ratio: number}, officer: {spans: number, narrowest: number, widest: number, ratio: number}},
 *   ship: {faces: Face[], lines: Vector[][], points: Record<string, Vector>, island_height: number, mast_height: number},
 *   cockpit: {eye: Vector, outlines: Face[]}, aeroplane: {span: number, faces: Face[]}, officer: {eye: Vector},
 *   path: Record<string, (number | null)[]>, gates: Record<string, number>}} Data */
/** @typedef {{part: string, points: [number, number][], closed: boolean}} Shape on the image plane, right and up */
/** @typedef {{half: [number, number], width: number, azimuth: number, elevation: number, eyeHeight: number, shapes: Shape[],
 *   horizon: [number, number][][], marks: Record<string, {right: number, up: number, hiddenBy: string}>, cutAt: number}} Picture
 *   cutAt : over the sea, where the horizon cuts the island */

const DEGREE = Math.PI / 180;
const ROUND_SEA = Array.from({ length: 181 }, (_, i) => [Math.cos(2 * i * DEGREE), -Math.sin(2 * i * DEGREE)]);

/** @param {Vector} a @param {Vector} b */
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** @param {Vector} a @param {Vector} b @returns {Vector} */
const plus = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
/** @param {Vector} a @param {Vector} b @returns {Vector} */
const less = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
/** @param {Vector} a @param {Vector} b @returns {Vector} */
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
/** @param {Vector} a @returns {Vector} */
const unit = (a) => scaled(a, 1 / Math.hypot(...a));
/** @param {Vector} a @param {number} by @returns {Vector} */
const scaled = (a, by) => [a[0] * by, a[1] * by, a[2] * by];
/** A point between two. @param {Vector} a @param {Vector} b @param {number} part of the way to b @returns {Vector} */
const between = (a, b, part) => plus(a, scaled(less(b, a), part));
/** A vector of the outer frame in a frame's axes. @param {Rows} rows @param {Vector} v @returns {Vector} */
export const within = (rows, v) => [dot(rows[0], v), dot(rows[1], v), dot(rows[2], v)];
/** A vector in a frame's axes back in the outer frame. @param {Rows} rows @param {Vector} v @returns {Vector} */
const outside = (rows, v) => [0, 1, 2].map((k) => rows[0][k] * v[0] + rows[1][k] * v[1] + rows[2][k] * v[2]);
/** @param {Vector[]} points @returns {Vector} */
const middle = (points) => scaled(points.reduce(plus), 1 / points.length);

/**
 * Axes of a body: heading clockwise, pitch up, bank to starboard.
 * @param {number} heading @param {number} pitch @param {number} bank @returns {Rows}
 */
export function axes(heading, pitch, bank) {
  const [sh, ch, sp, cp] = [Math.sin(heading), Math.cos(heading), Math.sin(pitch), Math.cos(pitch)];
  const [sb, cb] = [Math.sin(bank), Math.cos(bank)];
  return [
    [cp * ch, -cp * sh, sp],
    [cb * sh - sb * sp * ch, cb * ch + sb * sp * sh, sb * cp],
    [-cb * sp * ch - sb * sh, cb * sp * sh - sb * ch, cb * cp],
  ];
}

/**
 * How the aeroplane is at a time, linear between the instants there are.
 * @param {Data} data @param {number} time @returns {Instant}
 */
export function instant(data, time) {
  const { path } = data;
  const last = path.time.length - 1;
  let low = 0;
  for (let high = last - 1; low < high;) {
    const half = (low + high + 1) >> 1;
    if (path.time[half] <= time) low = half;
    else high = half - 1;
  }
  const part = (time - path.time[low]) / (path.time[low + 1] - path.time[low]);
  const known = (/** @type {number | null} */ value) => value ?? NaN;
  const found = Object.entries(path).map(([name, values]) => {
    const [a, b] = [known(values[low]), known(values[low + 1])];
    return [name, part <= 0 ? a : part >= 1 ? b : a + part * (b - a)];
  });
  return { ...Object.fromEntries(found), time };
}

/** The pilot's eye in the ship frame. @param {Data} data @param {Instant} at @returns {Vector} */
export const pilotsEye = (data, at) =>
  plus(wheels(data, at), outside(axes(at.heading, at.pitch, at.bank), data.cockpit.eye));

/** The main wheels in the ship frame. @param {Data} data @param {Instant} at @returns {Vector} */
const wheels = (data, at) => [at.ahead, at.port, at.height - data.deck_height];

/** From an eye to a point, over the round sea. @param {Data} data @param {Vector} point @param {Vector} eye @returns {Vector} */
export function sightLine(data, point, eye) {
  const [x, y, z] = less(point, eye);
  return [x, y, z - (x * x + y * y) / data.reach ** 2];
}

/** On the image plane, right and up; only for what is ahead of the eye. @param {Vector} v @returns {[number, number]} */
const onImage = (v) => [-v[1] / v[0], v[2] / v[0]];

/**
 * What is left of a face on the inner side of planes, each a normal and an offset.
 * @param {Vector[]} corners @param {[Vector, number][]} planes
 */
function cut(corners, planes) {
  for (const [normal, offset] of planes) {
    const depth = corners.map((corner) => dot(corner, normal) - offset);
    corners = corners.flatMap((corner, i) => {
      const [before, was] = [corners.at(i - 1), depth.at(i - 1)];
      const kept = depth[i] >= 0 ? [corner] : [];
      return (depth[i] >= 0) === (was >= 0) ? kept : [between(before, corner, was / (was - depth[i])), ...kept];
    });
  }
  return corners;
}

/** The pieces of a line that are left. @param {Vector[]} points @param {[Vector, number][]} planes @returns {Vector[][]} */
function cutLine(points, planes) {
  /** @type {Vector[][]} */
  const pieces = [];
  let goesOn = false;
  for (let i = 1; i < points.length; i++) {
    const [start, end] = [points[i - 1], points[i]];
    let [first, last] = [0, 1];
    for (const [normal, offset] of planes) {
      const [a, b] = [dot(start, normal) - offset, dot(end, normal) - offset];
      if (a < 0 && b < 0) last = -1;
      else if (a < 0) first = Math.max(first, a / (a - b));
      else if (b < 0) last = Math.min(last, a / (a - b));
    }
    const seen = first < last;
    if (seen && goesOn && first === 0) pieces.at(-1)?.push(between(start, end, last));
    else if (seen) pieces.push([between(start, end, first), between(start, end, last)]);
    goesOn = seen && last === 1;
  }
  return pieces;
}

/** Whether an outline about the eye goes round a direction. @param {Vector} direction @param {Vector[]} outline */
function goesRound(direction, outline) {
  const seen = unit(direction);
  const corners = outline.map(unit);
  const aside = unit(cross(seen, Math.abs(seen[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]));
  const along = cross(aside, seen);
  const turns = corners.map((corner) => Math.atan2(dot(corner, along), dot(corner, aside)));
  const steps = turns.map((turn, i) => turn - turns.at(i - 1));
  const whole = steps.reduce((sum, step) => sum + Math.atan2(Math.sin(step), Math.cos(step)), 0);
  return Math.abs(whole) > Math.PI && dot(seen, middle(corners)) > 0;
}

/**
 * What of his own aeroplane hides a point of the ship from the pilot, "" for nothing.
 * @param {Data} data @param {Instant} at @param {Vector} point
 */
export function hiddenBy(data, at, point) {
  const seen = within(axes(at.heading, at.pitch, at.bank), sightLine(data, point, pilotsEye(data, at)));
  return data.cockpit.outlines.findLast((outline) => goesRound(seen, outline.corners))?.part ?? "";
}

/** A picture under way: from an eye, with the axes of the view, and how wide the field is. */
class Sketch {
  /** @param {Data} data @param {Vector} eye @param {Rows} view @param {number} width @param {number} ratio */
  constructor(data, eye, view, width, ratio) {
    Object.assign(this, { data, eye, view, width });
    const across = Math.tan(0.5 * width);
    const upward = across * ratio;
    /** @type {[number, number]} */
    this.half = [across, upward];
    /** @type {[Vector, number][]} */
    this.planes = [[[1, 0, 0], data.near], [[across, 1, 0], 0], [[across, -1, 0], 0], [[upward, 0, 1], 0], [[upward, 0, -1], 0]];
    this.eyeHeight = eye[2] + data.deck_height;
    const horizon = data.reach * Math.sqrt(this.eyeHeight);
    const rim = ROUND_SEA.map(([x, y]) => within(view, [x * horizon, y * horizon, -2 * this.eyeHeight]));
    /** @type {Shape[]} */
    this.shapes = [];
    this.face("sea", rim.slice(1));
    this.horizon = cutLine(rim, this.planes).map((piece) => piece.map(onImage));
  }

  /** A face in view axes. @param {string} part @param {Vector[]} corners */
  face(part, corners) {
    const left = cut(corners, this.planes);
    if (left.length > 2) this.shapes.push({ part, points: left.map(onImage), closed: true });
  }

  /** A point of the ship in view axes. @param {Vector} point */
  seen(point) {
    return within(this.view, sightLine(this.data, point, this.eye));
  }

  /** The ship's faces turned to the eye, what hides after what is hidden. @param {Face[]} faces */
  ship(faces) {
    const { ship } = this.data;
    const onDeck = this.eye[2] > ship.island_height ? ["platform", "island", "mast"] : ["platform", "mast", "island"];
    const hull = ["hull", "deck side", "deck"];
    const turned = faces.filter(({ corners }) => {
      const outward = corners.map((corner, i) => cross(corners.at(i - 1), corner));
      return dot(middle(outward), less(this.eye, middle(corners))) > 0;
    });
    for (const part of this.eye[2] > 0 ? [...hull, ...onDeck] : [...onDeck, ...hull]) {
      for (const face of turned) if (face.part === part) this.face(part, face.corners.map((corner) => this.seen(corner)));
      if (part !== "deck" || this.eye[2] <= 0) continue;
      for (const line of ship.lines) {
        for (const piece of cutLine(line.map((point) => this.seen(point)), this.planes)) {
          this.shapes.push({ part: "deck line", points: piece.map(onImage), closed: false });
        }
      }
    }
  }

  /** @param {number} azimuth @param {number} elevation @param {(point: Vector) => string} hides @returns {Picture} */
  picture(azimuth, elevation, hides) {
    const { half, width, eyeHeight, shapes, horizon } = this;
    /** @type {Picture["marks"]} */
    const marks = {};
    for (const [name, point] of Object.entries(this.data.ship.points)) {
      const v = this.seen(point);
      const [right, up] = onImage(v);
      if (v[0] > 0 && Math.abs(right) <= half[0] && Math.abs(up) <= half[1]) marks[name] = { right, up, hiddenBy: hides(point) };
    }
    const [ahead] = less(this.data.ship.points.island, this.eye);
    const cutAt = (Math.sqrt(eyeHeight) - Math.hypot(ahead, this.eye[1]) / this.data.reach) ** 2;
    return { half, width, azimuth, elevation, eyeHeight, shapes, horizon, marks, cutAt };
  }
}

/**
 * What the pilot sees; null where the wing does not carry the aeroplane.
 * @param {Data} data @param {number} time @returns {Picture | null}
 */
export function pilotsPicture(data, time) {
  const at = instant(data, time);
  if (!Number.isFinite(at.pitch)) return null;
  const head = axes(at.look_azimuth, at.look_elevation, 0);
  const body = axes(at.heading, at.pitch, at.bank);
  const view = head.map((row) => outside(body, row));
  const sketch = new Sketch(data, pilotsEye(data, at), view, data.field.pilot.width, data.field.pilot.ratio);
  sketch.ship(data.ship.faces);
  for (const { part, corners } of data.cockpit.outlines) sketch.face(part, corners.map((corner) => within(head, corner)));
  return sketch.picture(at.look_azimuth, at.look_elevation, (point) => hiddenBy(data, at, point));
}

/**
 * What the signal officer sees when he looks at the aeroplane, as `pilotsPicture`.
 * @param {Data} data @param {number} time @returns {Picture | null}
 */
export function officersPicture(data, time) {
  const at = instant(data, time);
  if (!Number.isFinite(at.pitch)) return null;
  const { eye } = data.officer;
  const { spans, narrowest, widest, ratio } = data.field.officer;
  const towards = sightLine(data, pilotsEye(data, at), eye);
  const azimuth = Math.atan2(-towards[1], towards[0]);
  const elevation = Math.atan2(towards[2], Math.hypot(towards[0], towards[1]));
  const apart = (spans * data.aeroplane.span) / Math.hypot(...towards);
  const width = Math.min(widest, Math.max(narrowest, 2 * Math.atan(0.5 * apart)));
  const sketch = new Sketch(data, eye, axes(azimuth, elevation, 0), width, ratio);
  sketch.ship(data.ship.faces.filter((face) => face.part !== "platform"));
  const body = axes(at.heading, at.pitch, at.bank);
  const from = wheels(data, at);
  const faces = data.aeroplane.faces.map(({ part, corners }) => {
    const placed = corners.map((corner) => plus(from, outside(body, corner)));
    return { part, placed, far: placed.reduce((sum, corner) => sum + Math.hypot(...less(corner, eye)), 0) / placed.length };
  });
  for (const { part, placed } of faces.sort((a, b) => b.far - a.far)) {
    sketch.face(part, placed.map((corner) => sketch.seen(corner)));
  }
  return sketch.picture(azimuth, elevation, () => "");
}
