/* The skin in space. Colours and stripes are found for every pixel from the wall itself. */
const solid = (function() {
  const canvas = document.getElementById("solid");
  let renderer;
  try {
    /* Fine pixels need no smoothing; coarse ones do, and it costs where 3D is done in software. */
    const options = {
      antialias: (window.devicePixelRatio || 1) < 2,
      alpha: true,
      preserveDrawingBuffer: true
    };
    const context = canvas.getContext("webgl", options);
    if (!context || !context.getExtension("OES_element_index_uint")) return null;
    renderer = new THREE.WebGLRenderer({canvas, context, antialias: true, alpha: true});
    renderer.debug.checkShaderErrors = false; /* asking for them waits for the compiler */
  } catch (none) {
    return null;
  }

  const n = numbers.n, low = facts.box[0], high = facts.box[1];
  const middle = low.map((v, a) => (v + high[a]) / 2),
        size = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]) || 1;
  const skinAt = new Float32Array(3 * n);
  for (let i = 0; i < 3 * n; ++i) skinAt[i] = numbers.at[i] - middle[i % 3];
  const index = new THREE.BufferAttribute(numbers.cells, 1);
  const skin = new THREE.BufferGeometry(), pocket = new THREE.BufferGeometry();
  const shown = new THREE.BufferAttribute(new Float32Array(n), 1),
        risk = new THREE.BufferAttribute(new Float32Array(n), 1);
  function shape(geometry, at, cells) {
    geometry.setAttribute("position", new THREE.BufferAttribute(at, 3));
    geometry.setIndex(cells || index);
    geometry.computeVertexNormals();
    geometry.boundingSphere = new THREE.Sphere(new THREE.Vector3(), size);
  }
  shape(skin, skinAt);
  let pocketAt = null; /* made when a slice first shows it */
  function pocketOf(at, of) {
    const out = new Float32Array(at.length);
    for (let i = 0; i < at.length; ++i) out[i] = at[i] - of.through[i] / 127 * of.wall[i / 3 | 0];
    return out;
  }
  function pocketShown() {
    if (pocketAt) return;
    pocketAt = pocketOf(skinAt, numbers);
    shape(pocket, pocketAt);
  }
  skin.setAttribute("wall", shown);
  skin.setAttribute("risk", risk);

  const lut = new THREE.DataTexture(palette, 256, 1, THREE.RGBFormat);
  lut.magFilter = lut.minFilter = THREE.LinearFilter;
  lut.needsUpdate = true;
  const cutPlane = new THREE.Vector4(0, 0, 0, 1);
  const vertex = `attribute float wall; attribute float risk;
    varying float vWall; varying float vRisk; varying vec3 vNormal; varying vec3 vAt;
    void main() { vWall = wall; vRisk = risk; vAt = position; vNormal = normalMatrix * normal;
      gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`;
  const light = `float lit(vec3 nrm) {
    vec3 m = normalize(nrm);
    return 0.52 + 0.48 * abs(dot(m, normalize(vec3(-0.35, 0.55, 0.76))));
  }`;
  const skinLook = new THREE.ShaderMaterial({
    extensions: {derivatives: true},
    side: THREE.DoubleSide,
    vertexShader: vertex,
    uniforms: {
      lut: {value: lut},
      limit: {value: 0},
      scale: {
        value: new THREE.Vector3(facts.scale.knee_mm, facts.scale.knee_place, facts.scale.top_mm)
      },
      warn: {value: 1},
      ratio: {value: 1},
      cut: {value: cutPlane}
    },
    fragmentShader:
        `uniform sampler2D lut; uniform float limit, warn, ratio; uniform vec3 scale; uniform vec4 cut;
      varying float vWall; varying float vRisk; varying vec3 vNormal; varying vec3 vAt; ${light}
      void main() {
        if (dot(vAt, cut.xyz) > cut.w) discard;
        float knee = scale.x, bend = scale.y;
        float place = vWall < knee ? bend * max(vWall, 0.0) / knee :
          min(1.0, bend + (1.0 - bend) * (vWall - knee) / (scale.z - knee));
        vec3 colour = texture2D(lut, vec2((place * 255.0 + 0.5) / 256.0, 0.5)).rgb * lit(vNormal);
        float d = (gl_FragCoord.x - gl_FragCoord.y) / ratio;
        if (vWall <= 0.0) colour = mod(d, 6.0) < 2.0 ? vec3(0.8) : vec3(0.0);
        else if (vWall < limit) { if (mod(d, 6.0) < 2.0) colour = vec3(0.0); }
        else if (warn > 0.5 && vRisk < limit && mod(d, 9.0) < 1.4) colour = vec3(0.0);
        if (abs(vWall - limit) < fwidth(vWall) * 1.2 * ratio) colour = vec3(0.0);
        else if (warn > 0.5 && abs(vRisk - limit) < fwidth(vRisk) * 0.8 * ratio) colour = vec3(0.0);
        gl_FragColor = vec4(colour, 1.0);
      }`
  });
  const pocketLook = new THREE.ShaderMaterial({
    side: THREE.DoubleSide,
    uniforms: {cut: {value: cutPlane}},
    vertexShader: `varying vec3 vNormal; varying vec3 vAt;
    void main() {
      vAt = position; vNormal = normalMatrix * normal;
      gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
    }`,
    fragmentShader: `uniform vec4 cut; varying vec3 vNormal; varying vec3 vAt; ${light}
      void main() {
        if (dot(vAt, cut.xyz) > cut.w) discard;
        gl_FragColor = vec4(vec3(0.78, 0.71, 0.60) * lit(vNormal), 1.0);
      }`
  });

  const scene = new THREE.Scene(),
        camera = new THREE.PerspectiveCamera(32, 1, size / 100, size * 20);
  const skinMesh = new THREE.Mesh(skin, skinLook), pocketMesh = new THREE.Mesh(pocket, pocketLook);
  pocketMesh.visible = false;
  scene.add(skinMesh, pocketMesh);
  const sectionLine = new THREE.LineSegments(
      new THREE.BufferGeometry(), new THREE.LineBasicMaterial({color: 0xd02000, depthTest: false}));
  sectionLine.renderOrder = 2, sectionLine.frustumCulled = false, sectionLine.visible = false;
  scene.add(sectionLine);

  /* The other walls of the job, for looking at: as the program found them, whatever the sliders say. */
  let others = null, all = false;
  function othersShown() {
    others = others || otherWalls().map(function(other) {
      const o = other.numbers, at = new Float32Array(3 * o.n);
      for (let i = 0; i < 3 * o.n; ++i) at[i] = o.at[i] - middle[i % 3];
      const cells = new THREE.BufferAttribute(o.cells, 1), geometry = new THREE.BufferGeometry(),
            inside = new THREE.BufferGeometry();
      const pocketAt = pocketOf(at, o);
      shape(geometry, at, cells), shape(inside, pocketAt, cells);
      geometry.boundingSphere = inside.boundingSphere = null;
      geometry.setAttribute("wall", new THREE.BufferAttribute(o.expected, 1));
      geometry.setAttribute("risk", new THREE.BufferAttribute(o.worst, 1));
      const look = skinLook.clone();
      look.uniforms.lut = skinLook.uniforms.lut, look.uniforms.cut = skinLook.uniforms.cut,
      look.uniforms.ratio = skinLook.uniforms.ratio;
      look.uniforms.limit.value = judged(other.facts.limit_mm), look.uniforms.warn.value = 1;
      const mesh = new THREE.Mesh(geometry, look), pocketMesh = new THREE.Mesh(inside, pocketLook);
      mesh.frustumCulled = pocketMesh.frustumCulled = false;
      scene.add(mesh, pocketMesh);
      return {mesh, pocketMesh, at, pocketAt, cells: o.cells};
    });
    return others;
  }
  function showAll(on) {
    all = on;
    if (on) othersShown();
    for (const o of others || [])
      o.mesh.visible = on, o.pocketMesh.visible = on && cutAxis !== null;
    eye.target.set(0, 0, 0), eye.away = 1, fitted = 0;
    if (on) { /* the middle of everything */
      const low = [Infinity, Infinity, Infinity], high = low.map(v => -v);
      for (const at of [skinAt, ...others.map(o => o.at)])
        for (let i = 0; i < at.length; ++i)
          low[i % 3] = Math.min(low[i % 3], at[i]), high[i % 3] = Math.max(high[i % 3], at[i]);
      eye.target.set(...low.map((v, a) => (v + high[a]) / 2));
    }
    cut(cutAxis, cutAxis === null ? 0 : cutAt + middle[cutAxis]);
  }

  /* The place that is read: a ring that always faces the viewer and keeps its size. */
  const ring = new THREE.Group();
  for (const [inner, outer, colour] of [[0.62, 1.12, 0xffffff], [0.74, 1, 0x000000]]) {
    const part = new THREE.Mesh(
        new THREE.RingGeometry(inner, outer, 40),
        new THREE.MeshBasicMaterial({color: colour, depthTest: false, transparent: true}));
    part.renderOrder = 3 + inner;
    ring.add(part);
  }
  scene.add(ring);

  /* Turned by yaw about model z, then tipped; the skin looks at the viewer at the start. */
  const eye = {yaw: -0.45, tip: -0.75, away: 1, target: new THREE.Vector3()};
  /* From how far off the whole piece just fits, seen the way it is. */
  let fitAway = size;
  function fit() {
    const up = Math.tan(camera.fov * Math.PI / 360) * 0.93, across = up * camera.aspect;
    const turn = new THREE.Matrix4()
                     .lookAt(direction(), new THREE.Vector3(), new THREE.Vector3(0, 0, 1))
                     .transpose();
    const p = new THREE.Vector3();
    fitAway = 0;
    for (const at of [skinAt, ...(all ? others.map(o => o.at) : [])]) {
      const step = 3 * Math.ceil(at.length / 9000);
      for (let i = 0; i < at.length; i += step) {
        p.set(at[i], at[i + 1], at[i + 2]);
        if (all) p.sub(eye.target);
        p.applyMatrix4(turn);
        fitAway = Math.max(fitAway, p.z + Math.max(Math.abs(p.x) / across, Math.abs(p.y) / up));
      }
    }
  }
  function direction() {
    const c = Math.cos(eye.tip);
    return new THREE.Vector3(c * Math.sin(eye.yaw), -c * Math.cos(eye.yaw), Math.sin(eye.tip));
  }
  let asked = false, fitted = 0, sized = [];
  function draw() {
    if (canvas.hidden || asked) return;
    asked = true;
    requestAnimationFrame(drawNow);
  }
  function drawNow() {
    asked = false;
    const w = canvas.clientWidth, h = canvas.clientHeight;
    if (!w || !h) return;
    const ratio = Math.min(2, window.devicePixelRatio || 1);
    if (sized.join() !==
        [w, h, ratio].join()) { /* setting a size clears the canvas, be it the same */
      sized = [w, h, ratio];
      renderer.setPixelRatio(ratio);
      renderer.setSize(w, h, false);
    }
    skinLook.uniforms.ratio.value = ratio;
    camera.aspect = w / h;
    camera.updateProjectionMatrix();
    turnCut(0.12);
    if (w / h !== fitted) fitted = w / h, fit();
    camera.position.copy(eye.target).addScaledVector(direction(), eye.away * fitAway);
    camera.up.set(0, 0, 1);
    camera.lookAt(eye.target);
    const i = state.here;
    ring.position.set(skinAt[3 * i], skinAt[3 * i + 1], skinAt[3 * i + 2]);
    ring.quaternion.copy(camera.quaternion);
    ring.scale.setScalar(camera.position.distanceTo(ring.position) * 14 / h);
    renderer.render(scene, camera);
    if (!performance.getEntriesByName("drawn").length) performance.mark("drawn");
    placeTags(w, h);
  }
  /* Numbers of the thin places, where they face the viewer. */
  const tags = facts.report.regions.slice(0, MOST_PLACES).map(function(r, k) {
    const e = document.createElement("span");
    e.textContent = k + 1;
    document.getElementById("tags").appendChild(e);
    return {e, i: nearestSample(r.at_mm[0], r.at_mm[1], r.at_mm[2])};
  });
  function placeTags(w, h) {
    const p = new THREE.Vector3(), v = new THREE.Vector3();
    const taken = []; /* of two that would lie over each other the thinner place keeps its number */
    for (const tag of tags) {
      const i = 3 * tag.i;
      p.set(skinAt[i], skinAt[i + 1], skinAt[i + 2]);
      v.set(numbers.through[i], numbers.through[i + 1], numbers.through[i + 2]);
      const seen = v.dot(camera.position.clone().sub(p)) > 0 &&
                   p.x * cutPlane.x + p.y * cutPlane.y + p.z * cutPlane.z <= cutPlane.w + 1e-6;
      p.project(camera);
      const x = (p.x + 1) / 2 * w, y = (1 - p.y) / 2 * h;
      /* beside the place, away from the middle, so that the place itself stays in view */
      const s = x < w / 2 ? -1 : 1;
      const tx = Math.max(15, Math.min(w - 15, x + 24 * s)),
            ty = Math.max(15, Math.min(h - 15, y - 20));
      const free = seen && taken.every(q => Math.hypot(q[0] - tx, q[1] - ty) > 27);
      if (free) taken.push([tx, ty]);
      tag.e.className = free ? "" : "far";
      tag.e.style.transform = "translate(" + tx.toFixed(1) + "px," + ty.toFixed(1) + "px)";
    }
  }
  function refresh() {
    shown.array.set(state.shown()), shown.needsUpdate = true;
    risk.array.set(wallsNow.worst), risk.needsUpdate = true;
    skinLook.uniforms.limit.value = judged(state.limit);
    skinLook.uniforms.warn.value = state.wall === "worst" ? 0 : 1;
    draw();
  }

  let cutAxis = null, cutAt = 0, cutSign = 1;
  function cut(axis, at) {
    pocketMesh.visible = sectionLine.visible = axis !== null;
    for (const o of others || []) o.pocketMesh.visible = all && axis !== null;
    if (axis === null) cutPlane.set(0, 0, 0, 1);
    else {
      const d = at - middle[axis];
      cutAt = d;
      pocketShown();
      const out = [], shown = [
        [numbers.cells, skinAt, pocketAt],
        ...(all ? others.map(o => [o.cells, o.at, o.pocketAt]) : [])
      ];
      for (const [c, ...surfaces] of shown)
        for (const p of surfaces)
          for (let t = 0; t < c.length; t += 3)
            for (let e = 0, hits = 0; e < 3 && hits < 2; ++e) {
              const a = 3 * c[t + e], b = 3 * c[t + (e + 1) % 3], pa = p[a + axis] - d,
                    pb = p[b + axis] - d;
              if ((pa < 0) === (pb < 0)) continue;
              const f = pa / (pa - pb);
              ++hits;
              for (let k = 0; k < 3; ++k) out.push(p[a + k] + f * (p[b + k] - p[a + k]));
            }
      sectionLine.geometry.setAttribute("position",
                                        new THREE.BufferAttribute(new Float32Array(out), 3));
    }
    cutAxis = axis;
    turnCut(0);
    draw();
  }
  /* The half towards the viewer is taken away; it changes sides when the viewer clearly has. */
  function turnCut(clear) {
    if (cutAxis === null) return;
    const towards = direction().getComponent(cutAxis);
    if (Math.abs(towards) >= clear) cutSign = towards < 0 ? -1 : 1;
    const v = [0, 0, 0];
    v[cutAxis] = cutSign;
    cutPlane.set(v[0], v[1], v[2], cutSign * cutAt);
  }

  const ray = new THREE.Raycaster();
  function sampleAt(clientX, clientY) {
    const box = canvas.getBoundingClientRect();
    ray.setFromCamera(new THREE.Vector2((clientX - box.left) / box.width * 2 - 1,
                                        1 - (clientY - box.top) / box.height * 2),
                      camera);
    const hit = ray.intersectObject(skinMesh).find(
        h => h.point.x * cutPlane.x + h.point.y * cutPlane.y + h.point.z * cutPlane.z <=
             cutPlane.w + 1e-6);
    return hit ? nearestSample(hit.point.x + middle[0], hit.point.y + middle[1],
                               hit.point.z + middle[2])
               : null;
  }

  const fingers = new Map();
  let moved = 0, spread = 0;
  canvas.addEventListener("pointerdown", function(e) {
    canvas.setPointerCapture(e.pointerId);
    fingers.set(e.pointerId, [e.clientX, e.clientY]);
    if (fingers.size === 1) moved = 0;
    spread = 0;
  });
  canvas.addEventListener("pointermove", function(e) {
    const was = fingers.get(e.pointerId);
    if (!was) return;
    const dx = e.clientX - was[0], dy = e.clientY - was[1];
    moved += Math.abs(dx) + Math.abs(dy);
    fingers.set(e.pointerId, [e.clientX, e.clientY]);
    if (fingers.size === 2) {
      const [p, q] = [...fingers.values()], apart = Math.hypot(p[0] - q[0], p[1] - q[1]);
      if (spread > 0) zoom(spread / apart);
      spread = apart;
      shift(dx / 2, dy / 2);
    } else if (e.shiftKey || e.buttons === 2) shift(dx, dy);
    else turnBy(-dx * 0.008, dy * 0.008);
  });
  for (const over of ["pointerup", "pointercancel"])
    canvas.addEventListener(over, function(e) {
      const single = fingers.size === 1;
      if (!fingers.delete(e.pointerId) || over === "pointercancel" || !single || moved > 8 ||
          e.button > 0)
        return;
      const i = sampleAt(e.clientX, e.clientY);
      if (i !== null) state.goTo(i, "Here");
    });
  canvas.addEventListener("contextmenu", e => e.preventDefault());
  /* The wheel scrolls the page until the piece is clicked, and again when the mouse has left it. One
     finger up or down is the page's as well (touch-action), two are ours. */
  let held = false;
  function hold(on) {
    held = on;
    canvas.classList.toggle("held", on);
  }
  canvas.addEventListener("wheel", function(e) {
    if (held) e.preventDefault(), zoom(Math.exp(Math.sign(e.deltaY) * 0.12));
  }, {passive: false});
  canvas.addEventListener("click", e => hold(e.pointerType !== "touch"));
  for (const left of ["pointerleave", "blur"]) canvas.addEventListener(left, () => hold(false));
  for (const touch of ["touchstart", "touchmove"])
    canvas.addEventListener(touch, function(e) {
      if (e.touches.length > 1 && e.cancelable) e.preventDefault();
    }, {passive: false});
  canvas.addEventListener("keydown", function(e) {
    const key = {
      ArrowLeft: () => turnBy(-0.12, 0),
      ArrowRight: () => turnBy(0.12, 0),
      ArrowUp: () => turnBy(0, 0.12),
      ArrowDown: () => turnBy(0, -0.12),
      "+": () => zoom(0.85),
      "=": () => zoom(0.85),
      "-": () => zoom(1.18),
      Home: home,
      Escape: () => hold(false)
    }[e.key];
    if (key) e.preventDefault(), key();
  });
  function turnBy(yaw, tip) {
    eye.yaw += yaw, eye.tip = Math.max(-1.55, Math.min(1.55, eye.tip + tip));
    draw();
  }
  function zoom(by) {
    eye.away = Math.max(0.03, Math.min(3, eye.away * by));
    draw();
  }
  function shift(dx, dy) {
    const mm = 2 * eye.away * fitAway * Math.tan(camera.fov * Math.PI / 360) / canvas.clientHeight;
    eye.target.addScaledVector(new THREE.Vector3(1, 0, 0).applyQuaternion(camera.quaternion),
                               -dx * mm);
    eye.target.addScaledVector(new THREE.Vector3(0, 1, 0).applyQuaternion(camera.quaternion),
                               dy * mm);
    draw();
  }
  function home() { eye.yaw = -0.45, eye.tip = -0.75, showAll(all); }
  /* Looks at sample i from outside. */
  function face(i) {
    const v = [0, 1, 2].map(a => numbers.through[3 * i + a] / 127);
    eye.tip = Math.asin(Math.max(-0.98, Math.min(0.98, v[2])));
    if (Math.hypot(v[0], v[1]) > 0.05) eye.yaw = Math.atan2(v[0], -v[1]);
    fitted = 0;
    draw();
  }
  return {
    triangles: () => renderer.info.render.triangles,
    cutPieces: () => sectionLine.geometry.attributes.position.count / 2, /* for tests */
    draw,
    drawNow,
    refresh,
    cut,
    showAll,
    face,
    home,
    sampleAt,
    middle,
    screenOf(i) {
      const p =
          new THREE.Vector3(skinAt[3 * i], skinAt[3 * i + 1], skinAt[3 * i + 2]).project(camera);
      return [(p.x + 1) / 2 * canvas.clientWidth, (1 - p.y) / 2 * canvas.clientHeight];
    }
  };
})();
