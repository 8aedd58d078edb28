// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts a closed STL with npm manifold-3d, for comparison. Usage:
//   node compare_cut.mjs MANIFOLD_MODULE FILE NX NY NZ OFFSET
// Prints the volumes below and above the plane and the area of the section.
import {readFileSync} from 'node:fs';
const [modulePath, file, ...numbers] = process.argv.slice(2);
const [nx, ny, nz, offset] = numbers.map(Number);
const wasm = await (await import(modulePath)).default();
wasm.setup();
const data = readFileSync(file), count = data.readUInt32LE(80), vertices = [], corners = [];
for (let i = 0; i < count; ++i)
  for (let k = 0; k < 3; ++k) {
    corners.push(vertices.length / 3);
    for (const o of [0, 4, 8]) vertices.push(data.readFloatLE(84 + 50 * i + 12 + 12 * k + o));
  }
const mesh = new wasm.Mesh({numProp: 3, vertProperties: new Float32Array(vertices), triVerts: new Uint32Array(corners)});
mesh.merge();
const body = new wasm.Manifold(mesh);
const [above, below] = body.splitByPlane([nx, ny, nz], offset);
// The section: turned so that the plane is level. Rows of the turn: u, v, n.
const n = [nx, ny, nz], helper = Math.abs(nx) < 0.9 ? [1, 0, 0] : [0, 1, 0];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const u0 = cross(helper, n), l = Math.hypot(...u0), u = u0.map(x => x / l), v = cross(n, u);
const level = body.transform([u[0], v[0], n[0], 0, u[1], v[1], n[1], 0, u[2], v[2], n[2], 0, 0, 0, 0, 1]);
console.log(below.volume(), above.volume(), level.slice(offset).area());
