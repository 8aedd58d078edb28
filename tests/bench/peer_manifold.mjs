// SPDX-License-Identifier: GPL-3.0-or-later
// Times npm manifold-3d (WASM, one thread) splitting a mesh by a plane, both halves. Usage:
//   node peer_manifold.mjs MODULE FILE NX NY NZ OFFSET RUNS
// FILE: uint32 points, uint32 triangles, float32 coordinates, uint32 corners. Prints median, least, most in ms and the
// two volumes.
import {readFileSync} from 'node:fs';
const [modulePath, file, nx, ny, nz, offset, runs] = process.argv.slice(2);
const wasm = await (await import(modulePath)).default();
wasm.setup();
const data = readFileSync(file);
const buffer = data.buffer.slice(data.byteOffset, data.byteOffset + data.byteLength);
const [points, triangles] = new Uint32Array(buffer, 0, 2);
const mesh = new wasm.Mesh({numProp: 3, vertProperties: new Float32Array(buffer, 8, 3 * points),
                            triVerts: new Uint32Array(buffer, 8 + 12 * points, 3 * triangles)});
const body = new wasm.Manifold(mesh);
if (body.status() !== 'NoError' && body.status() !== 0) throw new Error('not a manifold: ' + body.status());
const times = [], volumes = [];
for (let i = 0; i < Number(runs); ++i) {
  const start = performance.now();
  const halves = body.splitByPlane([Number(nx), Number(ny), Number(nz)], Number(offset));
  const n = halves[0].numTri() + halves[1].numTri();   // evaluation is lazy
  times.push(performance.now() - start);
  if (i === 0) volumes.push(halves[0].volume(), halves[1].volume());
  halves[0].delete(); halves[1].delete();
}
times.sort((a, b) => a - b);
console.log(times[times.length >> 1], times[0], times[times.length - 1], volumes[0], volumes[1]);
