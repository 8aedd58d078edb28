// SPDX-License-Identifier: GPL-3.0-or-later
// Checks an exported folder with code that is none of ours: its own STL reader, and npm manifold-3d as the geometry
// kernel. Usage: node check_export.mjs MANIFOLD_MODULE DIR
// Prints a JSON summary; exit status 1 when something does not hold.
import {readFileSync} from 'node:fs';
import {join} from 'node:path';

const [modulePath, dir] = process.argv.slice(2);
const wasm = await (await import(modulePath)).default();
wasm.setup();

function readStl(path) {
  const data = readFileSync(path);
  const count = data.readUInt32LE(80);
  if (data.length !== 84 + 50 * count) throw new Error(`${path}: ${data.length} bytes for ${count} facets`);
  const names = new Map(), points = [], corners = [];
  for (let i = 0; i < count; ++i) {
    const corner = [];
    for (let k = 0; k < 3; ++k) {
      const at = 84 + 50 * i + 12 + 12 * k;
      const p = [0, 4, 8].map(o => data.readFloatLE(at + o) + 0);
      const key = p.join();
      if (!names.has(key)) { names.set(key, points.length); points.push(p); }
      corner.push(names.get(key));
    }
    corners.push(corner);
  }
  return {points, corners};
}

function troubles({corners}) {
  const edges = new Map();
  let bad = 0;
  for (const c of corners) {
    if (c[0] === c[1] || c[1] === c[2] || c[2] === c[0]) { ++bad; continue; }
    for (let k = 0; k < 3; ++k) {
      const key = c[k] + '>' + c[(k + 1) % 3];
      edges.set(key, (edges.get(key) ?? 0) + 1);
    }
  }
  for (const [key, n] of edges) {
    const [a, b] = key.split('>');
    if (n !== 1 || edges.get(b + '>' + a) !== 1) ++bad;
  }
  return bad;
}

function volumeOf({points, corners}) {
  let six = 0;
  for (const [i, j, k] of corners) {
    const [a, b, c] = [points[i], points[j], points[k]];
    six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return six / 6;
}

const place = (m, p) => [0, 4, 8].map(r => m[r] * p[0] + m[r + 1] * p[1] + m[r + 2] * p[2] + m[r + 3]);

const list = JSON.parse(readFileSync(join(dir, 'pieces.json')));
const summary = {pieces: 0, joint_parts: 0, bad_edges: 0, worst_volume_error: 0, worst_extent_error: 0,
                 piece_volume: 0, overlap_volume: 0, base_off_plate: 0, not_manifold: 0};
const solids = [];
for (const entry of list.pieces) {
  const stl = readStl(join(dir, entry.file));
  summary.bad_edges += troubles(stl);
  const v = volumeOf(stl);
  summary.worst_volume_error = Math.max(summary.worst_volume_error, Math.abs(v / entry.volume_mm3 - 1));
  const size = [0, 1, 2].map(k => {
    let low = Infinity, high = -Infinity;
    for (const p of stl.points) { low = Math.min(low, p[k]); high = Math.max(high, p[k]); }
    if (k === 2) summary.base_off_plate = Math.max(summary.base_off_plate, Math.abs(low));
    return high - low;
  });
  size.forEach((s, k) => {
    summary.worst_extent_error = Math.max(summary.worst_extent_error, Math.abs(s - entry.extents_mm[k]));
  });
  if (entry.kind === 'piece') { ++summary.pieces; summary.piece_volume += v; } else summary.joint_parts += entry.count;
  const m = entry.assembled_from_print;
  const mesh = new wasm.Mesh({numProp: 3, vertProperties: new Float32Array(stl.points.flatMap(p => place(m, p))),
                              triVerts: new Uint32Array(stl.corners.flat())});
  mesh.merge();
  try {
    const solid = new wasm.Manifold(mesh);
    if (solid.isEmpty()) ++summary.not_manifold;
    solids.push({number: entry.number, neighbours: entry.neighbours, solid});
  } catch { ++summary.not_manifold; }
}
const byNumber = new Map(solids.map(s => [s.number, s]));
for (const s of solids)
  for (const n of s.neighbours)
    if (n < s.number && byNumber.has(n))
      summary.overlap_volume += s.solid.intersect(byNumber.get(n).solid).volume();
console.log(JSON.stringify(summary));
const ok = summary.bad_edges === 0 && summary.not_manifold === 0 && summary.worst_volume_error < 1e-6 &&
    summary.worst_extent_error < 1e-3 && summary.base_off_plate === 0 &&
    summary.overlap_volume < 1e-4 * summary.piece_volume;
process.exit(ok ? 0 : 1);
