"use strict";
// Light and dark: what the system asks for, until the reader chooses.
(() => {
  const root = document.documentElement, button = document.getElementById("shade");
  const set = (dark) => {
    root.classList.toggle("dark", dark);
    button.setAttribute("aria-pressed", String(dark));
    document.dispatchEvent(new Event("shade"));
  };
  set(window.matchMedia("(prefers-color-scheme: dark)").matches);
  button.addEventListener("click", () => set(!root.classList.contains("dark")));
})();

// The turning view. Reads the binary glTF that this page carries.
(() => {
  const byId = (id) => document.getElementById(id);
  const canvas = byId("view");
  const text = byId("kit-glb").textContent.trim();
  const gl = text && canvas.getContext("webgl", { alpha: false, antialias: true, preserveDrawingBuffer: true });
  if (!gl) {
    canvas.hidden = true;
    byId("view-missing").hidden = false;
    return;
  }
  const file = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const head = new DataView(file.buffer);
  const length = head.getUint32(12, true);
  const gltf = JSON.parse(new TextDecoder().decode(file.subarray(20, 20 + length)));
  const start = 20 + length + 8;

  // Four by four matrices by columns.
  const times = (a, b) => Array.from({ length: 16 }, (_, i) =>
    [0, 1, 2, 3].reduce((sum, k) => sum + a[k * 4 + i % 4] * b[(i >> 2) * 4 + k], 0));
  const moved = (m, p) => [0, 1, 2].map((i) => m[i] * p[0] + m[4 + i] * p[1] + m[8 + i] * p[2] + m[12 + i]);
  const shift = ([x, y, z]) => [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, x, y, z, 1];

  const shader = (kind, source) => {
    const it = gl.createShader(kind);
    gl.shaderSource(it, source);
    gl.compileShader(it);
    return it;
  };
  const program = gl.createProgram();
  gl.attachShader(program, shader(gl.VERTEX_SHADER, `
    attribute vec3 at; attribute vec3 out_; uniform mat4 place, view; uniform float nearer;
    varying vec3 facing;
    void main() {
      facing = mat3(view) * mat3(place) * out_;
      gl_Position = view * place * vec4(at, 1.0);
      gl_Position.z -= nearer * gl_Position.w;
    }`));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER, `
    precision mediump float;
    varying vec3 facing; uniform vec4 colour; uniform float lit;
    void main() {
      vec3 n = normalize(facing);
      float light = 0.58 + 0.30 * abs(dot(n, normalize(vec3(0.35, 0.75, -0.55)))) + 0.14 * abs(n.z);
      gl_FragColor = vec4(colour.rgb * mix(1.0, light, lit), colour.a);
    }`));
  gl.linkProgram(program);
  gl.useProgram(program);
  const at = gl.getAttribLocation(program, "at"), out = gl.getAttribLocation(program, "out_");
  const put = Object.fromEntries(["place", "view", "nearer", "colour", "lit"].map((name) =>
    [name, gl.getUniformLocation(program, name)]));

  const buffer = (index, target) => {
    const view = gltf.bufferViews[gltf.accessors[index].bufferView];
    const it = gl.createBuffer();
    gl.bindBuffer(target, it);
    const from = start + view.byteOffset;
    gl.bufferData(target, file.slice(from, from + view.byteLength), gl.STATIC_DRAW);
    return it;
  };
  gl.getExtension("OES_element_index_uint");
  const meshes = gltf.meshes.map((mesh) => {
    const [surface, edges] = mesh.primitives;
    const { min, max } = gltf.accessors[surface.attributes.POSITION];
    const list = (part) => part && {
      count: gltf.accessors[part.indices].count,
      type: gltf.accessors[part.indices].componentType,
      indices: buffer(part.indices, gl.ELEMENT_ARRAY_BUFFER),
    };
    return {
      corners: buffer(surface.attributes.POSITION, gl.ARRAY_BUFFER),
      normals: buffer(surface.attributes.NORMAL, gl.ARRAY_BUFFER),
      surface: list(surface), edges: list(edges), min, max,
    };
  });
  const root = gltf.nodes[gltf.scenes[0].nodes[0]];
  const corners = (mesh, m) => [0, 1, 2, 3, 4, 5, 6, 7].map((k) =>
    moved(m, [0, 1, 2].map((i) => (k >> i & 1 ? mesh.max : mesh.min)[i])));
  const things = root.children.map((child) => {
    const node = gltf.nodes[child], mesh = meshes[node.mesh];
    const place = times(root.matrix, node.matrix || shift([0, 0, 0]));
    return { mesh, place, box: corners(mesh, place), extras: node.extras };
  });
  const parts = things.filter((thing) => thing.extras);
  const span = (boxes) => [0, 1, 2].map((i) => {
    const all = boxes.flat().map((p) => p[i]);
    return [Math.min(...all), Math.max(...all)];
  });
  const middle = (boxes) => span(boxes).map(([low, high]) => (low + high) / 2);
  const centre = middle(parts.map((part) => part.box));
  parts.forEach((part) => { part.centre = middle([part.box]); });

  // From outside, above and to the left: the outside of the wall looks along +z.
  const START = { yaw: 0.6, pitch: 0.42, zoom: 1 };
  const state = { ...START, which: "", step: Infinity, apart: 0, around: true };
  let printing = false;
  const field = (id) => byId(id) || {};

  const shown = () => {
    if (state.which) {
      return parts.filter((part) => part.extras.number === state.which).slice(0, 1);
    }
    return parts.filter((part) => part.extras.step <= state.step);
  };
  const away = (part) => part.centre.map((c, i) => state.which ? 0 : (c - centre[i]) * state.apart * 1.2);

  const draw = () => {
    const scale = window.devicePixelRatio || 1;
    canvas.width = Math.max(1, Math.round(canvas.clientWidth * scale));
    canvas.height = Math.max(1, Math.round(canvas.clientHeight * scale));
    gl.viewport(0, 0, canvas.width, canvas.height);
    const dark = !printing && document.documentElement.classList.contains("dark");
    gl.clearColor(...(dark ? [0.118, 0.141, 0.157, 1] : [1, 1, 1, 1]));
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    const list = shown();
    const around = state.around && !state.which && !state.apart;
    const fit = state.which ? list : around ? things : parts;
    const target = middle(fit.map((part) => part.box));
    // Room for every turn about the upright axis, at the first pitch: turning does not change the scale.
    const [wideHalf, highHalf, deepHalf] = span(fit.map((part) => part.box)).map(([low, high]) => (high - low) / 2);
    const round = Math.hypot(wideHalf, deepHalf), reach = Math.hypot(round, highHalf) || 1;
    const tall = highHalf * Math.cos(START.pitch) + round * Math.sin(START.pitch);
    const [sy, cy, sp, cp] = [Math.sin(state.yaw), Math.cos(state.yaw), Math.sin(state.pitch), Math.cos(state.pitch)];
    const turn = [cy, sp * sy, -cp * sy, 0, 0, cp, sp, 0, sy, -sp * cy, cp * cy, 0, 0, 0, 0, 1];
    const aspect = canvas.height / canvas.width;
    const grown = state.which ? 1 : 1 + 1.2 * state.apart;
    const high = 0.94 * state.zoom / Math.max(tall, round * aspect, 1e-6) / grown, wide = high * aspect;
    const lens = [wide, 0, 0, 0, 0, high, 0, 0, 0, 0, -0.12 / reach / grown, 0, 0, 0, 0, 1];
    gl.uniformMatrix4fv(put.view, false, times(times(lens, turn), shift(target.map((v) => -v))));
    const tone = dark ? [0.60, 0.65, 0.70] : [0.64, 0.69, 0.74];
    // Parts that no step names have step 0.
    const newest = state.step === Infinity || state.which ? -1 : state.step;
    for (const part of list) {
      const mark = part.extras.step === newest;
      paint(part, [...(mark ? [0.30, 0.66, 0.68] : tone), 1], [dark ? 0.05 : 0.12, 0.13, 0.15, 1], away(part));
    }
    if (around) {
      gl.enable(gl.BLEND);
      gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
      gl.depthMask(false);
      things.filter((thing) => !thing.extras).forEach((thing) =>
        paint(thing, [0.55, 0.60, 0.62, dark ? 0.08 : 0.16], [0.40, 0.45, 0.48, 0.35], [0, 0, 0]));
      gl.depthMask(true);
      gl.disable(gl.BLEND);
    }
  };
  const paint = ({ mesh, place }, colour, line, by) => {
    gl.uniformMatrix4fv(put.place, false, times(shift(by), place));
    gl.bindBuffer(gl.ARRAY_BUFFER, mesh.corners);
    gl.enableVertexAttribArray(at);
    gl.vertexAttribPointer(at, 3, gl.FLOAT, false, 0, 0);
    gl.bindBuffer(gl.ARRAY_BUFFER, mesh.normals);
    gl.enableVertexAttribArray(out);
    gl.vertexAttribPointer(out, 3, gl.FLOAT, false, 0, 0);
    const run = (it, mode, shade, lit, nearer) => {
      if (!it) return;
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, it.indices);
      gl.uniform4fv(put.colour, shade);
      gl.uniform1f(put.lit, lit);
      gl.uniform1f(put.nearer, nearer);
      gl.drawElements(mode, it.count, it.type, 0);
    };
    run(mesh.surface, gl.TRIANGLES, colour, 1, 0);
    run(mesh.edges, gl.LINES, line, 0, 0.0006);
  };

  let asked = false;
  const redraw = () => {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => { asked = false; draw(); });
  };
  const press = (key) => {
    const turns = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1] };
    if (turns[key]) {
      state.yaw += turns[key][0];
      state.pitch = Math.max(-1.55, Math.min(1.55, state.pitch + turns[key][1]));
    } else if (key === "+" || key === "=") {
      state.zoom = Math.min(40, state.zoom * 1.15);
    } else if (key === "-") {
      state.zoom = Math.max(0.3, state.zoom / 1.15);
    } else if (key === "Home") {
      Object.assign(state, START);
    } else {
      return false;
    }
    redraw();
    return true;
  };
  canvas.addEventListener("keydown", (event) => { if (press(event.key)) event.preventDefault(); });
  document.querySelectorAll("[data-key]").forEach((button) =>
    button.addEventListener("click", () => press(button.dataset.key)));
  let last = null;
  canvas.addEventListener("pointerdown", (event) => {
    last = [event.clientX, event.clientY];
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!last) return;
    state.yaw += (event.clientX - last[0]) * 0.008;
    state.pitch = Math.max(-1.55, Math.min(1.55, state.pitch + (event.clientY - last[1]) * 0.008));
    last = [event.clientX, event.clientY];
    redraw();
  });
  ["pointerup", "pointercancel"].forEach((kind) => canvas.addEventListener(kind, () => { last = null; }));
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    press(event.deltaY < 0 ? "+" : "-");
  }, { passive: false });

  const on = (id, change) => {
    if (field(id).addEventListener) field(id).addEventListener("input", (event) => { change(event.target); redraw(); });
  };
  on("which", (it) => { state.which = it.value; });
  on("apart", (it) => { state.apart = it.value / 100; });
  on("around", (it) => { state.around = it.checked; });
  on("step", (it) => {
    state.step = it.value === it.max ? Infinity : Number(it.value);
    byId("step-now").textContent = it.value;
  });
  document.querySelectorAll("[data-show]").forEach((button) => button.addEventListener("click", () => {
    state.which = byId("which").value = button.dataset.show;
    byId("kit").scrollIntoView();
    canvas.focus({ preventScroll: true });
    redraw();
  }));
  window.addEventListener("resize", redraw);
  window.addEventListener("beforeprint", () => { printing = true; draw(); });
  window.addEventListener("afterprint", () => { printing = false; draw(); });
  document.addEventListener("shade", redraw);
  window.kitView = { state, draw };
  draw();
  canvas.dataset.ready = "true";
})();
