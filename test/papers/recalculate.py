"""Works the equations of calculations again, from their printed text alone, and prints as
JSON what it found for each paper: the name of every equation, what is printed, what comes
out here, and whether the two agree within the printed digits; and the equations that it has
no formula for. It shares nothing with the program: it reads numbers as a person does, and
every formula stands here once more.

A number of five figures or more is taken as rounded, and stands for all numbers that round to
it; one with fewer is exact, as the paper says. A result agrees if some choice of numbers
within what was printed gives a number within what was printed. No tolerance is set."""
import itertools
import json
import math
import re
import subprocess
import sys

FIGURES = 5


class Number:
    """A printed number: all that it may stand for."""

    def __init__(self, text):
        self.text = text
        plain = text.replace("−", "-").replace(",", "")
        self.value = float(plain)
        mantissa, _, power = plain.lower().partition("e")
        digits = mantissa.lstrip("-").replace(".", "").lstrip("0")
        half = 0.0
        if len(digits) >= FIGURES and self.value:
            decimals = len(mantissa.partition(".")[2])
            last = 10.0 ** (int(power or 0) - decimals)
            rounded = 10.0 ** (math.floor(math.log10(abs(self.value))) - FIGURES + 1)
            half = max(last, rounded) / 2
        self.low, self.high = self.value - half, self.value + half

    def ends(self):
        return (self.low, self.high) if self.high > self.low else (self.value,)


def is_number(text):
    return re.fullmatch(r"[-−]?\d+(\.\d+)?(e[-−+]?\d+)?", text) is not None


def columns(line):
    return [x for x in re.split(r"\s{2,}", line.strip()) if x]


class Paper:
    def __init__(self, text):
        self.lines = [x for x in text.replace("\f", "\n").split("\n") if x.strip()]
        self.equations = {}  # name: (number, unit, has a formula)
        for line in self.lines:
            m = re.match(r"\s*\((\d+)\)\s{2,}(\S.*)$", line)
            if not m:
                continue
            parts = columns(m.group(2))
            found = [i for i, p in enumerate(parts) if i and is_number(p)]
            if not found or ":" not in parts[0]:
                raise SystemExit("equation (%s) cannot be read: %s" % (m.group(1), line))
            at = found[-1]
            name = parts[0].split(":")[0]
            if name in self.equations:
                raise SystemExit("two equations are called %r" % name)
            self.equations[name] = (Number(parts[at]), " ".join(parts[at + 1:]), " = " in parts[0])
        self.us = self.equations["Gravity"][1] == "ft/s²"
        self.results, self.done = [], set()

    def __getitem__(self, name):
        if name not in self.equations:
            raise SystemExit("the paper has no equation %r" % name)
        return self.equations[name][0]

    def has(self, name):
        return name in self.equations

    def given(self, label, optional=False):
        """The first number of the line of a table that begins with the label."""
        for line in self.lines:
            parts = columns(line)
            if parts and parts[0] == label:
                for p in parts[1:]:
                    if is_number(p):
                        return Number(p)
        if optional:
            return None
        raise SystemExit("no table has a number for %r" % label)

    def between(self, start, end):
        """The lines after a caption, up to another."""
        out, inside = [], False
        for line in self.lines:
            text = line.strip()
            if text.startswith(start) and not inside:
                inside, out = True, []
                continue
            if inside and text.startswith(end):
                return out
            if inside:
                out.append(columns(line))
        raise SystemExit("no table between %r and %r" % (start, end))

    def points(self, caption):
        """The points of a curve; None where there is no such table."""
        out, inside = [], False
        for line in self.lines:
            parts = columns(line)
            if parts == [caption]:
                inside = True
            elif inside and re.fullmatch(r"Point \d+", parts[0]):
                out.append((Number(parts[1]), Number(parts[2])))
            elif out and parts[0].startswith(("Between", "Two points", "Only", "Pipes", "Pump ", "Head curve", "Quantity")):
                break
        return out or None

    def check(self, name, formula, *inputs):
        """Holds what is printed against the formula over all that the inputs may stand for."""
        printed = self[name]
        self.done.add(name)
        ends = [x.ends() if isinstance(x, Number) else (x,) for x in inputs]
        all_of = [formula(*x) for x in itertools.product(*ends)]
        low, high = min(all_of), max(all_of)
        slack = 1e-12 * max(abs(low), abs(high))
        ok = low <= printed.high + slack and high >= printed.low - slack
        self.results.append({"name": name, "printed": printed.text, "low": low, "high": high, "ok": ok})


def colebrook(re_, rel):
    """The friction factor by halving an interval."""
    if re_ <= 2000:
        return 64 / re_
    if re_ < 4000:
        return 0.032 + (re_ - 2000) / 2000 * (colebrook(4000, rel) - 0.032)
    low, high = 1e-4, 1.0
    for _ in range(200):
        f = (low + high) / 2
        if 1 / math.sqrt(f) > -2 * math.log10(rel / 3.7 + 2.51 / (re_ * math.sqrt(f))):
            low = f
        else:
            high = f
    return (low + high) / 2


def slopes(points):
    """Slopes of the curve of Fritsch and Butland (1984) at its points."""
    n = len(points)
    w = [points[i + 1][0] - points[i][0] for i in range(n - 1)]
    s = [(points[i + 1][1] - points[i][1]) / w[i] for i in range(n - 1)]

    def edge(w0, w1, s0, s1):
        g = ((2 * w0 + w1) * s0 - w0 * s1) / (w0 + w1)
        if g * s0 <= 0:
            return 0.0
        return 3 * s0 if s0 * s1 <= 0 and abs(g) > 3 * abs(s0) else g

    m = [edge(w[0], w[1], s[0], s[1])]
    for i in range(1, n - 1):
        a, b = s[i - 1], s[i]
        m.append(3 * (w[i - 1] + w[i]) / ((w[i - 1] + 2 * w[i]) / a + (2 * w[i - 1] + w[i]) / b) if a * b > 0 else 0.0)
    return s, m + [edge(w[-1], w[-2], s[-1], s[-2])]


def piece(points, q):
    """Between which points a flow lies."""
    i = 0
    while i + 2 < len(points) and q >= points[i + 1][0].value:
        i += 1
    return i


def near(points, q):
    """The points that a curve at the flow depends on, flat, and the place of the first."""
    i = piece(points, q.value)
    first = max(0, i - 1)
    return first, i - first, [x for point in points[first:i + 3] for x in point]


def paired(flat):
    return list(zip(flat[::2], flat[1::2]))


def read(i, q, flat):
    """A curve at a flow, as a polynomial in the distance from the point before."""
    points = paired(flat)
    s, m = slopes(points)
    w, x = points[i + 1][0] - points[i][0], q - points[i][0]
    b, c = (3 * s[i] - 2 * m[i] - m[i + 1]) / w, (m[i] + m[i + 1] - 2 * s[i]) / (w * w)
    return points[i][1] + x * (m[i] + x * (b + x * c))


def reads(p, name, points, q):
    _, i, flat = near(points, q)
    p.check(name, lambda x, *of: read(i, x, of), q, *flat)


def curve(p, title, points, result, q):
    """The steps of reading a curve, and what is read."""
    first, i, flat = near(points, q)
    for name in list(p.equations):
        c = re.fullmatch(title + r" curve, slope of the chord from point (\d+) to (\d+)", name)
        if c:
            p.check(name, lambda *of, k=int(c.group(1)) - 1 - first: slopes(paired(of))[0][k], *flat)
        c = re.fullmatch(title + r" curve, slope at point (\d+)", name)
        if c:
            p.check(name, lambda *of, k=int(c.group(1)) - 1 - first: slopes(paired(of))[1][k], *flat)
    p.check(title + " curve, place between the points", lambda x, a, b: (x - a) / (b - a), q, *flat[2 * i:2 * i + 3:2])
    reads(p, result, points, q)


def pipes(p):
    """The runs of pipe by name: bore, wall, length, roughness, or the coefficient C."""
    out = {}
    for parts in p.between("Run    ", "Fittings:"):
        numbers = [Number(x) for x in parts[1:] if is_number(x)]
        c = [Number(x[4:]) for x in parts if x.startswith("C = ")]
        if len(numbers) + len(c) == 4:
            out[parts[0]] = {"d": numbers[0], "e": numbers[1], "l": numbers[2],
                             "eps": numbers[3] if not c else None, "c": c[0] if c else None}
    for parts in p.between("Speed of pressure waves", "Profile of the main"):
        numbers = [Number(x) for x in parts[1:] if is_number(x)]
        if parts[0] in out:
            out[parts[0]]["wave"] = numbers
    return out


def fittings(p, runs):
    """The loss coefficients of each run, added up again."""
    sums, printed = {}, {}
    for parts in p.between("Fittings:", "Speed of pressure waves"):
        numbers = [Number(x) for x in parts[1:] if is_number(x)]
        if parts[0] not in runs or not numbers:
            continue
        if "sum" in parts:
            printed[parts[0]] = numbers[0]
        elif len(numbers) == 1:
            sums.setdefault(parts[0], []).append((1.0, numbers[0]))
        else:
            sums.setdefault(parts[0], []).append((numbers[0].value, numbers[1]))
    for run, k in printed.items():
        if run not in sums:
            continue
        low = sum(n * x.low for n, x in sums[run])
        high = sum(n * x.high for n, x in sums[run])
        p.results.append({"name": "Sum of K, " + run, "printed": k.text, "low": low, "high": high,
                          "ok": low <= k.high + 1e-9 and high >= k.low - 1e-9})
    return printed


def point(p, runs, ks):
    """One operating point."""
    us, g = p.us, p["Gravity"]
    mu, rho, m_f = p.given("Dynamic viscosity"), p.given("Density"), p.given("Friction against that of water")
    p.check("Kinematic viscosity", lambda a, b: a / b * (1e3 if not us else 1e3 / (0.45359237 / 0.3048 ** 3)), mu, rho)
    nu, flow = p["Kinematic viscosity"], p["Flow of one pump"]
    p.check("Flow in the branch", lambda q: q * 231 / 60 / 1728 if us else q / 1000, flow)
    pumps = round(p["Flow in the main"].value / p["Flow in the branch"].value)
    p.check("Flow in the main", lambda q: pumps * q, p["Flow in the branch"])
    losses = []
    for run, r in runs.items():
        if not p.has("Velocity, " + run):
            continue
        q = p["Flow in the branch" if run.startswith("branch") else "Flow in the main"]
        p.check("Bore, " + run, lambda d: d / 12 if us else d / 1000, r["d"])
        bore = p["Bore, " + run]
        p.check("Velocity, " + run, lambda q, d: q / (math.pi / 4 * d * d), q, bore)
        v = p["Velocity, " + run]
        length = r["l"]
        if p.has("Length up to the high point, " + run):
            length = p["Length up to the high point, " + run]
        if r["c"]:
            k = 0.849 if not us else 0.849 / 0.3048 ** 0.37
            p.check("Slope of the head line (Hazen-Williams), " + run,
                    lambda v, c, d: (v / (k * c * (d / 4) ** 0.63)) ** (1 / 0.54), v, r["c"], bore)
            p.check("Friction loss, " + run, lambda m, l, s: m * l * s, m_f, length,
                    p["Slope of the head line (Hazen-Williams), " + run])
        else:
            p.check("Reynolds number, " + run, lambda v, d, n: v * d / (n * 1e-6) * (0.3048 ** 2 if us else 1), v, bore, nu)
            p.check("Relative roughness, " + run, lambda e, d: e / d, r["eps"], r["d"])
            x, rel = p["Reynolds number, " + run], p["Relative roughness, " + run]
            p.check("Friction factor (Darcy), " + run, colebrook, x, rel)
            f = p["Friction factor (Darcy), " + run]
            if p.has("Check of f, " + run):
                p.check("Check of f, " + run, lambda f: f ** -0.5, f)
            p.check("Friction loss, " + run, lambda m, f, l, d, v, g: m * f * l / d * v * v / (2 * g), m_f, f, length, bore, v, g)
        k = ks[run]
        if p.has("Fittings up to the high point, " + run):
            k = p["Fittings up to the high point, " + run]
        p.check("Loss of fittings, " + run, lambda k, v, g: k * v * v / (2 * g), k, v, g)
        losses += [p["Friction loss, " + run], p["Loss of fittings, " + run]]
    losses.append(valve(p, g))
    if p.has("Loss of the reducers beside the valve"):
        losses.append(p["Loss of the reducers beside the valve"])
    if p.equations["Static head"][2] if p.has("Static head") else False:
        source = "wet well" if p.given("High level, wet well", optional=True) else "suction"
        out, high, low = (p.given(x) for x in ("Level at the outlet", "High level, " + source, "Low level, " + source))
        p.check("Static head", lambda o, h, l: o - (h + l) / 2, out, high, low)
    static = p["Static head" if p.has("Static head") else "Static head to the high point"]
    p.check("System head", lambda *x: sum(x), static, *losses)
    head_and_power(p, rho, g, flow)


def valve(p, g):
    us = p.us
    d = p.given("Bore")
    p.check("Bore of the valve", lambda d: d / 12 if us else d / 1000, d)
    p.check("Velocity in the valve", lambda q, d: q / (math.pi / 4 * d * d), p["Flow in the branch"], p["Bore of the valve"])
    k = None
    if p.has("Loss coefficient of the valve, full open"):
        # Cv: gal/min at 1 psi; Kv: m³/h at 1 bar; water of 1000 kg/m³.
        drop, unit, metre = (6894.757293168, 231 * 0.0254 ** 3 / 60, 0.0254) if us else (1e5, 1 / 3600, 1e-3)
        p.check("Loss coefficient of the valve, full open",
                lambda c, d: 2 * drop / 1000 * (math.pi / 4 * (d * metre) ** 2) ** 2 / (c * unit) ** 2,
                p.given("Flow coefficient, full open"), d)
        k = p["Loss coefficient of the valve, full open"]
    if p.has("Loss coefficient at its opening"):
        k = p["Loss coefficient at its opening"]
    p.check("Loss of the valve", lambda k, v, g: k * v * v / (2 * g), k, p["Velocity in the valve"], g)
    return p["Loss of the valve"]


def pump_head(p, name, flow):
    points = p.points("Head curve")
    if len(points) > 2 and p.has("Head curve, place between the points"):
        if name == "Pump head":
            curve(p, "Head", points, name, flow)
        else:
            reads(p, name, points, flow)
        return

    def parabola(q, q1, h1, q2, h2):
        b = (h1 - h2) / (q2 ** 2 - q1 ** 2)
        return h1 + b * (q1 ** 2 - q * q)

    p.check(name, parabola, flow, *points[0], *points[1])
    if p.has("Shut-off head of the parabola"):
        p.check("Shut-off head of the parabola", parabola, 0.0, *points[0], *points[1])


def head_and_power(p, rho, g, flow):
    us = p.us
    pump_head(p, "Pump head", flow)
    p.results.append({"name": "Balance of pump head and system head", "printed": p["Pump head"].text,
                      "low": p["System head"].low, "high": p["System head"].high,
                      "ok": p["System head"].low <= p["Pump head"].high and p["System head"].high >= p["Pump head"].low})
    q, h = p["Flow in the branch"], p["Pump head"]
    p.check("Water power", lambda r, q, h, g: r * q * h / 550 if us else r * g * q * h / 1000, rho, q, h, g)
    eta, power = p.points("Pump efficiency"), p.points("Shaft power")
    if power:
        curve(p, "Power", power, "Shaft power", flow)
        p.check("Pump efficiency", lambda w, s: 100 * w / s, p["Water power"], p["Shaft power"])
    elif eta:
        curve(p, "Efficiency", eta, "Pump efficiency", flow)
        p.check("Shaft power", lambda w, e: 100 * w / e, p["Water power"], p["Pump efficiency"])
    else:
        best, at = p.given("Best pump efficiency"), p.given("Flow at best efficiency")
        p.check("Pump efficiency", lambda b, q, a: b * q / a * (2 - q / a), best, flow, at)
        p.check("Shaft power", lambda w, e: 100 * w / e, p["Water power"], p["Pump efficiency"])
    motor = p.given("Motor efficiency")
    kilowatt = 550 * 0.3048 * 0.45359237 * 9.80665 / 1000 if us else 1
    p.check("Electrical power at the motor", lambda s, m: 100 * kilowatt * s / m, p["Shaft power"], motor)
    p.check("Energy per volume pumped", lambda e, q: e / (q * (60 / 1000 if us else 3.6)), p["Electrical power at the motor"], flow)
    if p.has("Specific energy cost"):
        tariff = p.given("Price of electricity")
        p.check("Specific energy cost", lambda t, e: t * e, tariff, p["Energy per volume pumped"])
        if p.has("Energy cost of one pump per year"):
            p.check("Energy cost of one pump per year", lambda t, e, h: t * e * h, tariff,
                    p["Electrical power at the motor"], p.given("Running time of one pump per year"))


def run_down(p, rho, g):
    us = p.us
    if not p.has("Inertia time"):
        return
    q0 = p["Flow of the pump before the stop"]
    pump_head(p, "Pump head at this flow", q0)
    eta, power = p.points("Pump efficiency"), p.points("Shaft power")
    if eta:
        if eta[0][0].value <= q0.value <= eta[-1][0].value:
            reads(p, "Pump efficiency at this flow", eta, q0)
    e0, h0 = p["Pump efficiency at this flow"], p["Pump head at this flow"]
    cubic = 231 / 60 / 1728 if us else 1e-3
    p.check("Shaft power before the stop",
            lambda r, q, h, e, g: 100 * r * q * cubic * h / e * (1 / 550 if us else g / 1000), rho, q0, h0, e0, g)
    if power:
        reads(p, "Shaft power before the stop", power, q0)
    p.check("Angular speed", lambda n: n * 2 * math.pi / 60, p.given("Speed"))
    p.check("Inertia time", lambda i, w, s, g: i * w * w / (550 * g * s) if us else i * w * w / (1000 * s),
            p.given("Inertia of all that turns"), p["Angular speed"], p["Shaft power before the stop"], g)
    if p.has("Speed then, by hand"):
        p.check("Speed then, by hand", lambda t, a: 100 / (1 + t / a), p["Time of flow reversal, of the run"], p["Inertia time"])


def waves(p, runs, rho, g):
    bulk = p.given("Bulk modulus, with free gas")
    for run, r in runs.items():
        name = "Wave speed, " + run
        if len(r["wave"]) == 1:
            p.check(name, lambda a: a, r["wave"][0])
            continue
        modulus, c1 = r["wave"][0], r["wave"][1]
        k = 144000.0 if p.us else 1e9
        p.check(name, lambda g, b, ro, c, d, e, m: math.sqrt(k * (g if p.us else 1) * b / ro / (1 + c * b * d / (m * e))),
                g, bulk, rho, c1, r["d"], r["e"], modulus)
    for line in ("branch", "main"):
        of = [x for x in runs if x.startswith(line)]
        both = [runs[x]["l"] for x in of] + [p["Wave speed, " + x] for x in of]
        p.check("Time of a wave along the %s and back" % line,
                lambda *x: sum(2 * x[i] / x[i + len(of)] for i in range(len(of))), *both)


def stop(p, runs, rho, g):
    """One pump stop."""
    run_down(p, rho, g)
    waves(p, runs, rho, g)
    us, bore = p.us, p.given("Bore")
    branch = runs[next(x for x in runs if x.startswith("branch"))]
    if p.has("Stopping time of the column without the pump"):
        l, h = p["Water column that is stopped, as a length of the branch"], p["Head that drives it back"]
        v, ta = p["Velocity in the branch before the stop, without a valve"], p["Inertia time at that flow"]
        p.check("Stopping time of the column without the pump", lambda l, v, g, h: l * v / (g * h), l, v, g, h)
        tau = p["Stopping time of the column without the pump"]
        p.check("Time of flow reversal, by hand", lambda t, a: t / 2 * (1 + math.sqrt(1 + 4 * a / t)), tau, ta)
        p.check("Deceleration in the branch, by hand",
                lambda g, h, l, t, a: g * h / l * (1 - (1 + t / a) ** -2), g, h, l, p["Time of flow reversal, by hand"], ta)
        p.check("Deceleration in the valve, by hand", lambda a, d, b: a * (d / b) ** 2,
                p["Deceleration in the branch, by hand"], branch["d"], bore)
    reverse = p["Greatest reverse velocity in the valve"]
    if p.has("Mean deceleration from reversal to the seat"):
        p.check("Mean deceleration from reversal to the seat", lambda v, s, r: v / (s - r), reverse,
                p["Time of the hardest seating"], p["Time of flow reversal, of the run"])
    p.check("Reverse velocity in the branch", lambda v, b, d: v * (b / d) ** 2, reverse, bore, branch["d"])
    first = next(x for x in runs if x.startswith("branch"))
    p.check("Head rise of the sudden stop (Joukowsky)", lambda a, v, g: a * v / g, p["Wave speed, " + first],
            p["Reverse velocity in the branch"], g)
    rise = p["Head rise of the sudden stop (Joukowsky)"]
    pressure = (lambda r, h, g: r * h / 144) if us else (lambda r, h, g: r * g * h / 1000)
    p.check("The same as pressure", pressure, rho, rise, g)
    p.check("Part of other waves", lambda a, b: a - b, p["Head rise of the run"], rise)
    p.check("Max. pressure at the valve in this stop", lambda r, h, z, g: pressure(r, h - z, g), rho,
            p["Max. head behind the valve, of the run"], p["Axis of the valve above the same line"], g)


def main():
    out = {}
    for name in sys.argv[1:]:
        if name.endswith(".txt"):
            with open(name, encoding="utf-8") as f:
                text = f.read()
        else:
            text = subprocess.run(["pdftotext", "-layout", name, "-"], check=True, capture_output=True).stdout.decode()
        p = Paper(text)
        runs = pipes(p)
        point(p, runs, fittings(p, runs))
        stop(p, runs, p.given("Density"), p["Gravity"])
        left = sorted(x for x, (_, _, formula) in p.equations.items() if formula and x not in p.done)
        out[name] = {"results": p.results, "left": left}
    json.dump(out, sys.stdout, indent=1)


main()
