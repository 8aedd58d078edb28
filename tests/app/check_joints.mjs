// SPDX-License-Identifier: GPL-3.0-or-later
// Checks the joints of an exported folder with code that is none of ours: its own STL reader, and npm manifold-3d as
// the geometry kernel. Screws and studs are turned along their threads, keys and dowels pulled, dovetails and clocking
// keys slid. For draw bolts, which are bought, screw, washer and nut are made from the standards' numbers, put in their
// places, and brought in from outside.
// Usage: node check_joints.mjs MANIFOLD_MODULE DIR [JOINT, such as A1: only this one]
// Prints a JSON summary, one entry a mating pair; exit status 1 when something does not hold.
import {readFileSync} from 'node:fs';
import {join} from 'node:path';

const [modulePath, dir, only] = process.argv.slice(2);
const wasm = await (await import(modulePath)).default();
wasm.setup();

const coordinateMm = 1e-3;  // rounding of coordinates in the files, with a margin
const overlapMm3 = 1e-3;    // and of volumes
const turns = 8, stepsATurn = 8, pulls = 8;

const add = (a, b, k = 1) => a.map((x, i) => x + k * b[i]);
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = a => a.map(x => x / Math.hypot(...a));
// Files hold the rows of a 3 x 4 matrix, the kernel wants the columns of a 4 x 4 one.
const columns = m => [0, 1, 2, 3].flatMap(c => [m[c], m[4 + c], m[8 + c], c === 3 ? 1 : 0]);

function readStl(path) {
  const data = readFileSync(path), count = data.readUInt32LE(80);
  if (data.length !== 84 + 50 * count) throw new Error(`${path}: ${data.length} bytes for ${count} facets`);
  const names = new Map(), points = [], corners = [];
  for (let i = 0; i < count; ++i)
    for (let k = 0; k < 3; ++k) {
      const p = [0, 4, 8].map(o => data.readFloatLE(84 + 50 * i + 12 + 12 * k + o) + 0), key = p.join();
      if (!names.has(key)) { names.set(key, names.size); points.push(...p); }
      corners.push(names.get(key));
    }
  const solid = new wasm.Manifold(new wasm.Mesh(
      {numProp: 3, vertProperties: new Float32Array(points), triVerts: new Uint32Array(corners)}));
  if (solid.status() !== 'NoError' || solid.isEmpty()) throw new Error(`${path}: ${solid.status()}`);
  return solid;
}

// Rotation about an axis through a point (Rodrigues), then a way along it; as the kernel has it.
function helix(at, axis, angle, way) {
  const c = Math.cos(angle), s = Math.sin(angle), [x, y, z] = axis;
  const r = [[c + x * x * (1 - c), x * y * (1 - c) - z * s, x * z * (1 - c) + y * s],
             [y * x * (1 - c) + z * s, c + y * y * (1 - c), y * z * (1 - c) - x * s],
             [z * x * (1 - c) - y * s, z * y * (1 - c) + x * s, c + z * z * (1 - c)]];
  const t = add(add(at, r.map(row => dot(row, at)), -1), axis, way);
  return columns(r.flatMap((row, i) => [...row, t[i]]));
}

// The frame of a cut's plane: u is square to the normal and to the coordinate axis least along it.
function frameOf({normal: n, offset_mm}) {
  const a = n.map(Math.abs), least = a[0] <= a[1] && a[0] <= a[2] ? 0 : a[1] <= a[2] ? 1 : 2;
  const u = unit(cross([0, 1, 2].map(k => (k === least ? 1 : 0)), n));
  return {normal: n, space: ([p, q]) => add(add(n.map(x => x * offset_mm), u, p), cross(n, u), q)};
}

// A cylinder round an axis from a point on.
function cylinder(at, axis, radius, length) {
  const helper = Math.abs(axis[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0], u = unit(cross(helper, axis)), v = cross(axis, u);
  return wasm.Manifold.cylinder(length, radius, radius, 96).transform(
      columns([0, 1, 2].flatMap(k => [u[k], v[k], axis[k], at[k]])));
}

const centre = solid => {
  const {min, max} = solid.boundingBox();
  return [0, 1, 2].map(k => (min[k] + max[k]) / 2);
};

const project = JSON.parse(readFileSync(join(dir, 'project.quoin.json')));
const list = JSON.parse(readFileSync(join(dir, 'pieces.json')));
const pieces = new Map(), loose = [];
for (const entry of list.pieces) {
  const solid = readStl(join(dir, entry.file));
  if (entry.kind === 'piece') pieces.set(entry.number, solid.transform(columns(entry.assembled_from_print)));
  else for (const m of entry.placements) loose.push({kind: entry.kind, solid: solid.transform(columns(m))});
}

// One half of a joint: what stands in the side that `into` points to.
function checked(joint, name, at, into, male, female, way, aside) {
  const out = into.map(x => -x), reach = joint.depth_mm + (joint.end_clearance_mm ?? 0);
  const round = joint.diameter_mm / 2 + (joint.length_mm ?? 0) + 2;
  // The faces touch; below them nothing may be nearer than the clearance.
  const stud = male.intersect(cylinder(add(at, into, coordinateMm), into, round, reach));
  const bore = female.intersect(cylinder(at, into, round + 2, reach + 4));
  const r = {joint: name, kind: joint.kind, clearance_mm: joint.clearance_mm, stud_mm3: stud.volume()};
  const overlap = m => m.intersect(bore).volume();
  r.rest_overlap_mm3 = overlap(stud);
  r.gap_mm = stud.minGap(bore, 2 * joint.clearance_mm + 1);
  let moves, wrong;
  if (joint.thread) {
    const lead = joint.thread.pitch_mm * joint.thread.starts, hand = joint.thread.left_hand ? -1 : 1;
    moves = Array.from({length: turns * stepsATurn}, (_, i) => -2 * Math.PI * (i + 1) / stepsATurn)
                .map(a => helix(at, into, hand * a, lead * a / (2 * Math.PI)));
    wrong = helix(at, into, 0, -joint.thread.pitch_mm / 2);
  } else if (way) {  // it holds against being pulled off the face
    moves = Array.from({length: pulls}, (_, i) => helix(at, way, 0, (i + 1) * 1.2 * joint.length_mm / pulls));
    wrong = aside ? helix(at, aside, 0, 2 * joint.clearance_mm + 0.5) : helix(at, out, 0, reach / 3);
  } else {
    moves = Array.from({length: pulls}, (_, i) => helix(at, out, 0, (i + 1) * reach / pulls));
    wrong = helix(at, into, Math.PI / 8, 0);
  }
  r.moved_overlap_mm3 = Math.max(...moves.map(m => overlap(stud.transform(m))));
  r.wrong_overlap_mm3 = overlap(stud.transform(wrong));
  // A plain dowel may be turned; all else must not go the wrong way.
  const free = joint.kind === 'dowel' && !joint.keyed;
  r.ok = r.stud_mm3 > 1 && r.rest_overlap_mm3 < overlapMm3 && r.gap_mm > joint.clearance_mm - coordinateMm &&
      r.moved_overlap_mm3 < overlapMm3 && (free || r.wrong_overlap_mm3 > 1e-3 * r.stud_mm3);
  return r;
}

// Largest dimensions, mm, from memory: ISO 4762 head dk and k, ISO 7089 washer d2 and h, ISO 4032 nut s and m.
const metric = {3: [5.5, 3, 7, 0.5, 5.5, 2.4], 4: [7, 4, 9, 0.8, 7, 3.2], 5: [8.5, 5, 10, 1, 8, 4.7],
                6: [10, 6, 12, 1.6, 10, 5.2], 8: [13, 8, 16, 1.6, 13, 6.8], 10: [16, 10, 20, 2, 16, 8.4],
                12: [18, 12, 24, 2.5, 18, 10.8], 16: [24, 16, 30, 3, 24, 14.8], 20: [30, 20, 37, 3, 30, 18]};

// A hexagon with corners along `corner`, `flats` wide, from a depth along an axis on.
function hexagon(at, axis, corner, flats, from, height) {
  const v = cross(axis, corner), ring = [...Array(6).keys()].map(k => [Math.cos(k * Math.PI / 3), Math.sin(k * Math.PI / 3)]
      .map(x => x * flats / Math.sqrt(3)));
  const place = add(at, axis, from);
  return wasm.Manifold.extrude([ring], height).transform(
      columns([0, 1, 2].flatMap(k => [corner[k], v[k], axis[k], place[k]])));
}

// A draw bolt: nothing of it meets the pieces, it comes in from outside, and it has seats to pull on.
function boltChecked(joint, name, at, up, angle, sides, lengths) {
  const d = joint.diameter_mm, [dk, k, d2, h, s, m] = metric[d];
  const above = joint.carrier === 'above', head = above ? up : up.map(x => -x), other = head.map(x => -x);
  const headPiece = sides[above ? 'above' : 'below'], otherPiece = sides[above ? 'below' : 'above'];
  const insert = joint.hold === 'heat-set insert';
  const need = joint.grip_mm + h + joint.depth_mm + (insert ? 0 : m);
  const length = lengths.filter(l => l >= need).sort((a, b) => a - b)[0];
  const r = {joint: name, kind: joint.kind, clearance_mm: joint.clearance_mm, length_mm: length ?? null};
  const lifted = coordinateMm, under = joint.grip_mm + h + lifted, free = joint.head_out_mm + 5;
  const overlap = solid => solid.intersect(headPiece).volume() + solid.intersect(otherPiece).volume();
  const shank = cylinder(add(at, head, under - length), head, d / 2, length);
  const cap = cylinder(add(at, head, under), head, dk / 2, k);
  const washer = cylinder(add(at, head, joint.grip_mm + lifted), head, d2 / 2, h);
  // Swept from outside: as long as its way.
  const way = (radius, from) => cylinder(add(at, head, from), head, radius, free + length - from);
  r.rest_overlap_mm3 = overlap(shank) + overlap(cap) + overlap(washer);
  r.moved_overlap_mm3 = overlap(way(d / 2, under - length)) + overlap(way(d2 / 2, joint.grip_mm + lifted));
  // Pressed down by half a millimetre the washer sinks into the material all round the bore.
  const ring = Math.PI / 4 * (d2 * d2 - (1.15 * d + 0.5) ** 2) * 0.5;
  r.seat_share = washer.transform(helix(at, other, 0, 0.5)).intersect(headPiece).volume() / ring;
  r.head_below_skin_mm = joint.head_out_mm - (under + k);
  r.ok = length !== undefined && r.rest_overlap_mm3 < overlapMm3 && r.moved_overlap_mm3 < overlapMm3 &&
      r.seat_share > 0.9 && r.head_below_skin_mm > -0.6;
  if (insert) {
    // What is pressed in has material all round: a ring a little wider than the bore lies in it.
    const bore = cylinder(add(at, other, 1), other, d / 2, joint.depth_mm - 1);
    r.bore_overlap_mm3 = overlap(bore);
    const shell = cylinder(add(at, other, 1), other, d, joint.depth_mm - 1);
    r.held_share = shell.subtract(cylinder(add(at, other, 0), other, 0.85 * d, joint.depth_mm + 2))
                       .intersect(otherPiece).volume() / (Math.PI * d * d * (1 - 0.85 ** 2) * (joint.depth_mm - 1));
    r.ok &&= r.bore_overlap_mm3 < overlapMm3 && r.held_share > 0.99;
    return r;
  }
  // Two corners lie along the angle.
  const side = joint.hold === 'nut from the side';
  const nut = turn => hexagon(at, other, unit(add(angle, cross(other, angle), Math.tan(turn))), s,
                              joint.depth_mm + lifted, m);
  r.nut_overlap_mm3 = overlap(nut(0));
  r.nut_turned_mm3 = overlap(nut(Math.PI / 6));
  const pressed = nut(0).transform(helix(at, head, 0, 0.5)).intersect(otherPiece).volume();
  r.nut_seat_share = pressed / ((Math.sqrt(3) / 2 * s * s - Math.PI / 4 * (1.15 * d + 0.5) ** 2) * 0.5);
  const out = side ? angle : other, far = side ? joint.nut_out_mm + s : joint.nut_out_mm + m;
  const steps = Array.from({length: 40}, (_, i) => helix(at, out, 0, (i + 1) * far / 40));
  r.nut_moved_mm3 = Math.max(...steps.map(step => overlap(nut(0).transform(step))));
  r.ok &&= r.nut_overlap_mm3 < overlapMm3 && r.nut_turned_mm3 > 1 && r.nut_seat_share > 0.9 &&
      r.nut_moved_mm3 < overlapMm3;
  return r;
}

const results = [], count = new Map();
const boltLengths = d => list.bought.map(b => b.name.match(/ISO 4762 M([0-9.]+) x ([0-9.]+)/))
    .filter(b => b && Number(b[1]) === d).map(b => Number(b[2]));
for (const joint of project.layout.joints) {
  const seam = project.seams[joint.seam], frame = frameOf(project.cuts[seam.cut]), at = frame.space(joint.at_mm);
  count.set(seam.mark, (count.get(seam.mark) ?? 0) + 1);
  const name = seam.mark + count.get(seam.mark), sides = {below: seam.piece_below, above: seam.piece_above};
  if (only && only !== name) continue;
  const into = {above: frame.normal, below: frame.normal.map(x => -x)};
  const along = unit(add(frame.space(add(joint.at_mm, [Math.cos(joint.angle_rad), Math.sin(joint.angle_rad)])), at, -1));
  if (joint.kind === 'draw bolt') {
    results.push(boltChecked(joint, name, at, frame.normal, along,
                             {below: pieces.get(sides.below), above: pieces.get(sides.above)},
                             boltLengths(joint.diameter_mm)));
    continue;
  }
  const grown = joint.kind === 'screw' || joint.kind === 'dovetail' || joint.integral;
  if (grown) {
    const other = joint.carrier === 'below' ? 'above' : 'below';
    const way = joint.kind === 'dovetail' && along;
    results.push(checked(joint, name, at, into[other], pieces.get(sides[joint.carrier]), pieces.get(sides[other]),
                         way));
    continue;
  }
  const slides = joint.kind === 'clocking key';
  // The middle of a D's box lies a little off its axis.
  const middle = slides ? add(at, along, joint.length_mm / 2) : at;
  const apart = p => Math.hypot(...add(centre(p.solid), middle, -1));
  const part = loose.filter(p => p.kind === joint.kind && apart(p) < joint.diameter_mm / 3)
                   .sort((a, b) => apart(a) - apart(b))[0];
  if (!part) { results.push({joint: name, kind: joint.kind, ok: false, why: 'its loose part is missing'}); continue; }
  for (const side of ['below', 'above'])
    results.push(checked(joint, `${name} ${side}`, at, into[side], part.solid, pieces.get(sides[side]),
                         slides && along, slides && cross(frame.normal, along)));
}

// Whole pieces: where faces touch, rounding makes slivers.
let seamsOk = true;
const seams = project.seams.map(s => {
  const mm3 = pieces.get(s.piece_below).intersect(pieces.get(s.piece_above)).volume();
  seamsOk &&= mm3 < 1e-4 * s.area_mm2;
  return {seam: s.mark, overlap_mm3: mm3};
});
console.log(JSON.stringify({joints: results, seams}));
process.exit(results.length > 0 && seamsOk && results.every(r => r.ok) ? 0 : 1);
