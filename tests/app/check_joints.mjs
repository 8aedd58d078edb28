// SPDX-License-Identifier: GPL-3.0-or-later
// Checks the joints of an exported folder with code that is none of ours: its own STL reader, and npm manifold-3d as
// the geometry kernel. Screws and studs are turned along their threads, keys and dowels pulled, dovetails slid. Draw
// bolts have no printed mate and are left out.
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
function checked(joint, name, at, into, male, female, way) {
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
    wrong = helix(at, out, 0, reach / 3);
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

const results = [], count = new Map();
for (const joint of project.layout.joints) {
  const seam = project.seams[joint.seam], frame = frameOf(project.cuts[seam.cut]), at = frame.space(joint.at_mm);
  count.set(seam.mark, (count.get(seam.mark) ?? 0) + 1);
  const name = seam.mark + count.get(seam.mark), sides = {below: seam.piece_below, above: seam.piece_above};
  if (only && only !== name) continue;
  const into = {above: frame.normal, below: frame.normal.map(x => -x)};
  if (joint.kind === 'draw bolt') continue;
  const grown = joint.kind === 'screw' || joint.kind === 'dovetail' || joint.integral;
  if (grown) {
    const other = joint.carrier === 'below' ? 'above' : 'below';
    const way = joint.kind === 'dovetail' && add(frame.space(add(joint.at_mm, [Math.cos(joint.angle_rad),
                                                                              Math.sin(joint.angle_rad)])), at, -1);
    results.push(checked(joint, name, at, into[other], pieces.get(sides[joint.carrier]), pieces.get(sides[other]),
                         way));
    continue;
  }
  // The middle of a D's box lies a little off its axis.
  const apart = p => Math.hypot(...add(centre(p.solid), at, -1));
  const part = loose.filter(p => p.kind === joint.kind && apart(p) < joint.diameter_mm / 3)
                   .sort((a, b) => apart(a) - apart(b))[0];
  if (!part) { results.push({joint: name, kind: joint.kind, ok: false, why: 'its loose part is missing'}); continue; }
  for (const side of ['below', 'above'])
    results.push(checked(joint, `${name} ${side}`, at, into[side], part.solid, pieces.get(sides[side])));
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
