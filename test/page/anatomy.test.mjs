import assert from "node:assert/strict";
import { test } from "node:test";
import { anatomy, bounds, coil, turn } from "../../internal/web/page/anatomy.js";

const DRAWINGS = ["ball-pocket", "ball-cage", "swing", "swing-lever", "flap", "tilting-disc", "dual-plate", "axial"];
const figure = (drawing, more = {}) => ({
  drawing,
  element: "disc",
  hinged: false,
  lever: false,
  weight: false,
  spring: false,
  cushion: false,
  ...more,
});
const MADE_UP = [
  { element: "plug" },
  { element: "plug", spring: true },
  { element: "ball" },
  { element: "plates", hinged: true },
  { element: "disc", hinged: true },
  { element: "disc", hinged: true, lever: true },
];
const rad = (deg) => (deg * Math.PI) / 180;
const on = (place, [x, y]) => [
  place.x + x * Math.cos(rad(place.deg)) - y * Math.sin(rad(place.deg)),
  place.y + x * Math.sin(rad(place.deg)) + y * Math.cos(rad(place.deg)),
];

test("every type has a seat, something that moves, and no number missing", () => {
  for (const f of [...DRAWINGS.map((name) => figure(name)), ...MADE_UP.map((more) => figure("", more))]) {
    const type = f.drawing || JSON.stringify(f);
    for (const position of ["horizontal", "flow up", "flow down"]) {
      const a = anatomy({ figure: f, bore_m: 0.15, position });
      assert.ok(a.parts.length > 0 && a.seat.length === 2, type);
      assert.doesNotMatch(
        JSON.stringify([a.water, a.still, a.parts.map((p) => [p.shapes, p.place(0), p.place(0.4), p.place(1)])]),
        /NaN|null|undefined|Infinity/,
        type,
      );
      const [from, to] = [a.parts[0].place(0), a.parts[0].place(1)];
      assert.ok(Math.hypot(to.x - from.x, to.y - from.y) + Math.abs(to.deg - from.deg) > 5, `${type} does not move`);
      for (const v of bounds(a, turn(position))) assert.ok(Number.isFinite(v));
    }
  }
});

test("a ball that is shut touches both edges of its seat, and rolls away along its guide", () => {
  const bore = 0.1524;
  const a = anatomy({
    figure: figure("ball-pocket"),
    bore_m: bore,
    position: "flow up",
    parts: {
      ball_diameter: 1.25 * bore,
      seat_diameter: bore,
      travel: 1.225 * bore,
      pocket_diameter: 1.35 * bore,
      guide_angle: Math.PI / 4,
      seat_tilt: rad(25),
    },
  });
  assert.deepEqual(a.usual, []);
  const shut = a.parts[0].place(0);
  for (const [x, y] of a.seat) assert.ok(Math.abs(Math.hypot(x - shut.x, y - shut.y) - 62.5) < 0.01);
  const open = a.parts[0].place(1);
  assert.ok(Math.abs(Math.hypot(open.x - shut.x, open.y - shut.y) - 122.5) < 1e-9);
  assert.ok(Math.abs(Math.atan2(shut.y - open.y, open.x - shut.x) - Math.PI / 4) < 1e-9);
});

test("a hinged disc that is shut lies on its seat's plane and covers it; open, it has turned by its stroke", () => {
  for (const [type, tilt, stroke] of [
    ["swing", 5, 65],
    ["flap", 45, 35],
    ["tilting-disc", 25, 45],
  ]) {
    const a = anatomy({
      figure: figure(type),
      bore_m: 1,
      position: "horizontal",
      parts: { seat_angle: rad(tilt), stroke_angle: rad(stroke) },
    });
    const part = a.parts[0];
    const disc = part.shapes.find((s) => s.tag === "rect");
    const shut = part.place(0);
    const ends = [
      [0, disc.y],
      [0, disc.y + disc.height],
    ].map((p) => on(shut, p));
    for (const [x, y] of ends)
      assert.ok(Math.abs(x * Math.cos(rad(tilt)) - y * Math.sin(rad(tilt))) < 0.02, `${type} is off its seat`);
    const reach = (p) => p[0] * Math.sin(rad(tilt)) + p[1] * Math.cos(rad(tilt));
    assert.ok(
      reach(ends[0]) <= reach(a.seat[0]) + 0.02 && reach(ends[1]) >= reach(a.seat[1]) - 0.02,
      `${type} does not cover its seat`,
    );
    assert.ok(Math.abs(Math.abs(part.place(1).deg - shut.deg) - stroke) < 1e-9);
    assert.ok(on(part.place(1), [0, disc.y + disc.height])[0] > ends[1][0], `${type} opens against the flow`);
  }
});

test("plates fold together without passing through each other", () => {
  const a = anatomy({
    figure: figure("dual-plate"),
    bore_m: 1,
    parts: { stroke_angle: rad(80), disc_diameter: 0.975 },
  });
  for (const o of [0, 0.3, 1]) {
    const [up, down] = a.parts.map((p, i) => {
      const r = p.shapes[0];
      return [
        [r.x, r.y],
        [r.x + r.width, r.y],
        [r.x, r.y + r.height],
        [r.x + r.width, r.y + r.height],
      ].map((c) => on(p.place(o), c)[1] * (i ? -1 : 1));
    });
    assert.ok(Math.min(...up) > 0 && Math.min(...down) > 0, `at ${o}`);
  }
});

test("a lever's angle is given against the true horizontal, however the valve stands", () => {
  const parts = { lever_arm: 0.15, lever_angle: rad(-30), stroke_angle: rad(60) };
  for (const position of ["horizontal", "flow up", "flow down"]) {
    const a = anatomy({ figure: figure("swing-lever"), bore_m: 0.15, position, parts });
    const lever = a.parts.find((p) => p.outside);
    const onPage = lever.place(0).deg + turn(position); // clockwise on the page
    assert.ok(Math.abs(((onPage - 30 + 540) % 360) - 180) < 1e-9, `${position}: ${onPage}`);
  }
});

test("what the catalog does not give is named", () => {
  assert.ok(anatomy({ figure: figure("ball-cage"), bore_m: 0.1 }).usual.includes("chamber diameter"));
});

test("a type without a drawing is drawn by what it says of itself", () => {
  const of = (more) =>
    anatomy({ title: "Sliding plug", figure: figure("", more), bore_m: 0.1, parts: { stroke: 0.02 } });
  const turns = (a) => Math.abs(a.parts[0].place(1).deg - a.parts[0].place(0).deg) > 5;
  const plug = of({ element: "plug" });
  assert.equal(plug.kind, "plug that slides along its guide (Sliding plug)");
  assert.ok(
    !turns(plug) && plug.spring === null && !plug.parts.some((p) => p.outside),
    "neither hinge nor spring nor lever",
  );
  assert.ok(of({ element: "plug", spring: true }).spring);
  const lever = of({ element: "disc", hinged: true, lever: true });
  assert.match(lever.kind, /^disc that turns about its hinge/);
  assert.ok(turns(lever) && lever.parts.some((p) => p.outside));
  assert.ok(!of({ element: "disc", hinged: true }).parts.some((p) => p.outside));
  assert.equal(of({ element: "plates", hinged: true }).parts.length, 2);
  assert.equal(of({ element: "ball" }).parts[0].shapes[0].tag, "circle");
});

test("the room holds the ball at both ends of its way", () => {
  const a = anatomy({ figure: figure("ball-pocket"), bore_m: 1 });
  for (const position of ["horizontal", "flow up", "flow down"]) {
    const t = rad(turn(position));
    const [x0, y0, x1, y1] = bounds(a, turn(position));
    for (const o of [0, 1]) {
      const p = a.parts[0].place(o);
      const [x, y] = [p.x * Math.cos(t) - p.y * Math.sin(t), p.x * Math.sin(t) + p.y * Math.cos(t)];
      assert.ok(x - 62.5 >= x0 && x + 62.5 <= x1 && y - 62.5 >= y0 && y + 62.5 <= y1);
    }
  }
});

test("a coil begins and ends where it is held", () => {
  assert.match(coil(0, 0, 40, 30), /^M0,0L.*L40,30$/);
  assert.doesNotMatch(coil(1, 1, 1, 1), /NaN/);
});
