// A picture as shapes: what recorder.py wrote down, painted on a canvas at the canvas's own density.
//
// `Shapes` holds one picture: apply(bytes) takes a record, or what changed in one; paint(ink, box,
// scale, inks) draws a box of it. Colours are names, which the page's inks resolve; whatever the page
// shows them as, nothing is asked of the kernel. record.py says how a record is packed.

const PER_PX = 16;
const SLIM = 2 ** 31;
const LETTERS = '"mensura sans", "DejaVu Sans", Verdana, sans-serif';

/** A path's points as a Path2D in shown pixels, and what is needed to put them on whole dots. */
function outlined(points, way, codes) {
  const path = new Path2D();
  const n = points.length / 2;
  if (way !== 2) {
    for (let k = 0; k < n; k += 1) {
      const x = points[2 * k] / PER_PX, y = points[2 * k + 1] / PER_PX;
      if (k) { path.lineTo(x, y); } else { path.moveTo(x, y); }
    }
    if (way === 1) { path.closePath(); }
    return { path, square: squared(points, way) ? { points, way } : null };
  }
  const at = (k) => [points[2 * k] / PER_PX, points[2 * k + 1] / PER_PX];
  for (let k = 0; k < n; k += 1) {
    switch (codes[k]) {
      case 1: path.moveTo(...at(k)); break;
      case 2: path.lineTo(...at(k)); break;
      case 3: path.quadraticCurveTo(...at(k), ...at(k + 1)); k += 1; break;
      case 4: path.bezierCurveTo(...at(k), ...at(k + 1), ...at(k + 2)); k += 2; break;
      case 79: path.closePath(); break;
    }
  }
  const lines = codes.every((code) => code === 1 || code === 2 || code === 79);
  return { path, square: lines && squared(points, way, codes) ? { points, way, codes } : null };
}

/** Whether every line goes level or upright: such lines stand on whole dots, to be sharp. */
function squared(points, way, codes) {
  const n = points.length / 2;
  if (n < 2 || n > 600) { return false; }
  for (let k = 1; k < n; k += 1) {
    if (codes && codes[k] !== 2) { continue; }
    if (points[2 * k] !== points[2 * k - 2] && points[2 * k + 1] !== points[2 * k - 1]) { return false; }
  }
  if (way !== 1) { return true; }
  return points[0] === points[2 * n - 2] || points[1] === points[2 * n - 1];
}

/** A path of level and upright lines on whole dots of the canvas. */
function onDots({ points, way, codes }, scale, left, top, wide) {
  const path = new Path2D();
  const half = Math.round(wide) % 2 ? 0.5 : 0;
  const put = (value, from) => Math.floor((value / PER_PX - from) * scale + 0.5) + half;
  for (let k = 0; k < points.length / 2; k += 1) {
    const x = put(points[2 * k], left), y = put(points[2 * k + 1], top);
    const code = codes ? codes[k] : k ? 2 : 1;
    if (code === 1) { path.moveTo(x, y); } else if (code === 2) { path.lineTo(x, y); } else { path.closePath(); }
  }
  if (way === 1) { path.closePath(); }
  return path;
}

/** Lines across a square of one inch, as `hatch` asks: the picture's own measure. */
function hatched(hatch, inks, style, scale) {
  const side = Math.max(4, Math.round(96 * scale));
  const tile = document.createElement('canvas');
  tile.width = tile.height = side;
  const ink = tile.getContext('2d');
  ink.strokeStyle = inks[style.hs] || inks.truth;
  ink.lineWidth = style.hw * scale;
  // as many from the lower left to the upper right as the picture's maker draws in an inch
  const lines = 6 * [...hatch].filter((one) => one === '/').length;
  ink.beginPath();
  for (let k = 0; k <= lines; k += 1) {
    const from = side * (2 - (2 * k) / lines);
    ink.moveTo(-side, from + side);
    ink.lineTo(2 * side, from - 2 * side);
  }
  ink.stroke();
  return tile;
}

/** Numbers that were told as differences, and where what follows them begins: `slim` of record.py. */
function summedUp(bytes, start, many) {
  const wide = new DataView(bytes.buffer, bytes.byteOffset + start);
  const short = start + 4 + 2 * wide.getUint32(0, true);
  const steps = new Int8Array(bytes.buffer, bytes.byteOffset + short, many);
  const numbers = new Int16Array(many);
  for (let k = 0, at = 4; k < many; k += 1) {
    let step = steps[k];
    if (step === -128) { step = wide.getInt16(at, true); at += 2; }
    numbers[k] = (k > 1 ? numbers[k - 2] : 0) + step;  // of which 16 bits are kept, as they were
  }
  return [numbers, short + many];
}

export class Shapes {
  constructor() {
    this.styles = new Map();
    this.marks = new Map();
    this.artists = new Map();
    this.hatches = new Map();
    this.size = [0, 0];
  }

  /** Takes a packed record, or the changes in one: a DataView or anything with a buffer. */
  apply(data) {
    const bytes = new Uint8Array(data.buffer || data, data.byteOffset || 0, data.byteLength);
    const told = new DataView(bytes.buffer, bytes.byteOffset).getUint32(0, true);
    const length = told % SLIM;
    const header = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length)));
    const [many, coded, images] = header.count;
    let start = 4 + length;
    let numbers;
    if (told < SLIM) {
      // a copy: numbers of two bytes must begin at an even place
      numbers = new Int16Array(bytes.slice(start, start + 2 * many).buffer);
      start += 2 * many;
    } else {
      [numbers, start] = summedUp(bytes, start, many);
    }
    const codes = bytes.subarray(start, start + coded);
    start += coded;
    let number = 0, code = 0;
    const points = (n) => numbers.subarray(number, number += 2 * n);
    const outline = (n, way) => {
      const some = points(n);
      return outlined(some, way, way === 2 ? codes.subarray(code, code += n) : null);
    };
    this.size = header.size;
    for (const [key, style] of Object.entries(header.styles || {})) { this.styles.set(Number(key), style); }
    for (const [key, n, way] of header.marks || []) { this.marks.set(key, outline(n, way)); }
    const waiting = [];
    for (const [key, ops] of header.artists) {
      this.artists.set(key, ops.map((op) => {
        switch (op[0]) {
          case 'p': return { kind: 'p', style: op[1], ...outline(op[2], op[3]) };
          case 'm': return { kind: 'm', style: op[1], mark: op[2], at: points(op[3]) };
          case 't': return { kind: 't', style: op[1], text: op[2], x: op[3] / PER_PX, y: op[4] / PER_PX, angle: op[5] };
          default: {
            const long = images.shift();
            const one = { kind: 'i', box: op.slice(1).map((side) => side / PER_PX), image: null };
            const blob = new Blob([bytes.slice(start, start + long)], { type: 'image/png' });
            start += long;
            waiting.push(createImageBitmap(blob).then((image) => { one.image = image; }));
            return one;
          }
        }
      }));
    }
    this.order = [...this.artists.keys()].sort((a, b) => a - b);
    // images are decoded a moment later
    return waiting.length ? Promise.all(waiting) : null;
  }

  /** Draws the box [left, top, width, height], in shown pixels, at so many dots for each. */
  paint(ink, [left, top, width, height], scale, inks) {
    ink.setTransform(1, 0, 0, 1, 0, 0);
    ink.fillStyle = inks.paper;
    ink.fillRect(0, 0, Math.ceil(width * scale), Math.ceil(height * scale));
    for (const key of this.order) {
      for (const op of this.artists.get(key)) { this.one(ink, op, scale, left, top, inks); }
    }
    ink.setTransform(1, 0, 0, 1, 0, 0);
  }

  one(ink, op, scale, left, top, inks) {
    const place = () => ink.setTransform(scale, 0, 0, scale, -left * scale, -top * scale);
    if (op.kind === 'i') {
      if (op.image) { place(); ink.drawImage(op.image, ...op.box); }
      return;
    }
    const style = this.styles.get(op.style);
    if (!style || (op.kind === 'm' && !this.marks.has(op.mark))) { return; }  // it is still on its way
    place();
    if (style.k) {
      ink.save();
      const [x, y, right, low] = style.k.map((side) => side / PER_PX);
      ink.beginPath();
      ink.rect(x, y, right - x, low - y);
      ink.clip();
    }
    if (op.kind === 't') {
      this.text(ink, op, style, inks);
    } else if (op.kind === 'p') {
      this.outline(ink, op, style, scale, left, top, inks, place);
    } else {
      const mark = this.marks.get(op.mark);
      // level and upright lines stand on whole dots, as the axes on which such marks stand
      const dots = mark.square && onDots(mark.square, scale, 0, 0, style.s ? style.w * scale : 0);
      for (let k = 0; k < op.at.length; k += 2) {
        const x = (op.at[k] / PER_PX - left) * scale, y = (op.at[k + 1] / PER_PX - top) * scale;
        if (dots) {
          ink.setTransform(1, 0, 0, 1, Math.floor(x + 0.5), Math.floor(y + 0.5));
          draw(ink, dots, style, inks, scale);
        } else {
          ink.setTransform(scale, 0, 0, scale, x, y);
          draw(ink, mark.path, style, inks, 1);
        }
      }
    }
    if (style.k) { ink.restore(); }
  }

  outline(ink, op, style, scale, left, top, inks, place) {
    // fill, hatch and line are of one path: all of it on whole dots, or none
    const path = op.square ? onDots(op.square, scale, left, top, style.s ? style.w * scale : 0) : op.path;
    const put = () => (op.square ? ink.setTransform(1, 0, 0, 1, 0, 0) : place());
    put();
    fill(ink, path, style, inks);
    if (style.h) {
      ink.save();
      ink.globalAlpha = 1;
      ink.clip(path);
      ink.setTransform(1, 0, 0, 1, 0, 0);
      const pattern = ink.createPattern(this.hatched(style, inks, scale), 'repeat');
      pattern.setTransform(new DOMMatrix([1, 0, 0, 1, -left * scale, -top * scale]));
      ink.fillStyle = pattern;
      ink.fillRect(0, 0, ink.canvas.width, ink.canvas.height);
      ink.restore();
    }
    stroke(ink, path, style, inks, op.square ? scale : 1);
  }

  /** A square of hatching, drawn once for each ink and scale. */
  hatched(style, inks, scale) {
    const key = [style.h, inks[style.hs], style.hw, scale].join(' ');
    if (!this.hatches.has(key)) {
      if (this.hatches.size > 20) { this.hatches.clear(); }
      this.hatches.set(key, hatched(style.h, inks, style, scale));
    }
    return this.hatches.get(key);
  }

  text(ink, op, style, inks) {
    ink.font = `${style.bold ? 'bold ' : ''}${style.t}px ${LETTERS}`;
    ink.textBaseline = 'alphabetic';
    ink.textRendering = 'geometricPrecision';
    ink.fillStyle = inks[style.f];
    ink.globalAlpha = style.fa ?? 1;
    if (op.angle) {
      ink.translate(op.x, op.y);
      ink.rotate((-op.angle * Math.PI) / 180);
      ink.fillText(op.text, 0, 0);
    } else {
      ink.fillText(op.text, op.x, op.y);
    }
    ink.globalAlpha = 1;
  }
}

function draw(ink, path, style, inks, scale) {
  fill(ink, path, style, inks);
  stroke(ink, path, style, inks, scale);
}

function fill(ink, path, style, inks) {
  if (!style.f) { return; }
  ink.globalAlpha = style.fa ?? 1;
  ink.fillStyle = inks[style.f];
  ink.fill(path);
  ink.globalAlpha = 1;
}

function stroke(ink, path, style, inks, scale) {
  if (!style.s) { return; }
  ink.globalAlpha = style.sa ?? 1;
  pen(ink, style, inks, scale);
  ink.stroke(path);
  ink.globalAlpha = 1;
}

function pen(ink, style, inks, scale) {
  ink.strokeStyle = inks[style.s];
  ink.lineWidth = style.w * scale;
  ink.lineCap = style.c || 'butt';
  ink.lineJoin = style.j || 'miter';
  ink.setLineDash((style.d || []).map((one) => one * scale));
  ink.lineDashOffset = (style.o || 0) * scale;
}
