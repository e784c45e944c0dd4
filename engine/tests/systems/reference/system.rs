//! The reference problem as the stepper sees it: rates, Jacobian, guards and what happens at them.

use super::*;
use slipsoak_engine::numerics::{Flow, Jacobian, Sizes, Step, System};

impl System for Machine {
    fn sizes(&self) -> Sizes {
        Sizes { states: STATES, counters: 0, slow: SLOW, guards: 3 }
    }

    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        let mut entries = vec![];
        for i in [0, 1, LINING, DRUM] {
            entries.extend([0, 1, LINING, DRUM].map(|j| (i, j)));
        }
        for i in [BUSHING, WASHER] {
            entries.extend([0, 1, LINING].map(|j| (i, j)));
        }
        let cells = [LINING, DRUM].into_iter().flat_map(|start| (start..start + CELLS - 1).map(|i| (i, i + 1)));
        let surfaces = SURFACES.iter().map(|s| (s.0, CAVITY));
        for (i, j) in cells.chain(LINKS.iter().map(|l| (l.0, l.1))).chain(surfaces) {
            entries.extend([(i, j), (j, i)]);
        }
        for &(i, _, _, drum) in &SURFACES {
            entries.extend([(i, usize::from(drum)), (CAVITY, usize::from(drum))]);
        }
        entries.extend([(SPROCKET, 1), (CAVITY, 0), (CAVITY, 1), (CRANKCASE, 0), (CRANK, 0)]);
        (entries, vec![])
    }

    fn rates(&self, _t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        let y: &[f64; STATES] = y.try_into().expect("as many states as the sizes say");
        let mut q = [0.0; STATES];
        let c = self.contact(slow, [y[0], y[1], y[LINING], y[DRUM]]);
        q[0] = c.engine;
        q[1] = c.drum;
        q[LINING] = c.to_lining;
        q[DRUM] = c.to_drum;
        q[BUSHING] = c.to_bushing;
        q[WASHER] = c.to_washer;
        q[CRANKCASE] = 0.35 * c.engine_heat;
        q[CRANK] = 0.03 * c.engine_heat;
        for (start, faces) in [LINING, DRUM].into_iter().zip(&self.faces) {
            for (i, g) in faces.iter().enumerate() {
                let flow = g * (y[start + i] - y[start + i + 1]);
                q[start + i] -= flow;
                q[start + i + 1] += flow;
            }
        }
        for (i, j, g) in self.links() {
            let flow = g * (y[i] - y[j]);
            q[i] -= flow;
            q[j] += flow;
        }
        let air = [air_speed(y[0]).0, air_speed(y[1]).0];
        for &(i, area, share, drum) in &SURFACES {
            let flow = area * (8.0 + share * air[usize::from(drum)]) * (y[i] - y[CAVITY]);
            q[i] -= flow;
            q[CAVITY] += flow;
        }
        let fourth = |t: f64| (t * t) * (t * t);
        for &(i, radiation) in &RADIANT {
            let flow = radiation * (fourth(y[i]) - fourth(y[CAVITY]));
            q[i] -= flow;
            q[CAVITY] += flow;
        }
        q[SPROCKET] -= 0.01 * (8.0 + air[1]) * (y[SPROCKET] - AMBIENT);
        for &(i, area, of_drum, of_engine) in &OUTER {
            q[i] -= outside(area, of_drum * air[1] + of_engine * air[0], y[i]).0;
        }
        for ((o, q), c) in out.iter_mut().zip(&q).zip(&self.per_capacity) {
            *o = q * c;
        }
    }

    fn constant_slopes(&self, out: &mut Jacobian) {
        let (m, per) = (&mut out.states, &self.per_capacity);
        let mut link = |i: usize, j: usize, of_i: f64, of_j: f64| {
            m.add(i, i, -of_i * per[i]);
            m.add(i, j, of_j * per[i]);
            m.add(j, i, of_i * per[j]);
            m.add(j, j, -of_j * per[j]);
        };
        for (start, faces) in [LINING, DRUM].into_iter().zip(&self.faces) {
            for (i, &g) in faces.iter().enumerate() {
                link(start + i, start + i + 1, g, g);
            }
        }
        for (i, j, g) in self.links() {
            link(i, j, g, g);
        }
    }

    fn jacobian(&self, _t: f64, y: &[f64], slow: &[f64], _: &[f64], out: &mut Jacobian) {
        let m = &mut out.states;
        let per = &self.per_capacity;
        let at = [0, 1, LINING, DRUM];
        let v: [Dual<4>; 4] = std::array::from_fn(|k| Dual::variable(y[at[k]], k));
        let c = self.contact(slow, v);
        let rows = [
            (0, c.engine),
            (1, c.drum),
            (LINING, c.to_lining),
            (DRUM, c.to_drum),
            (BUSHING, c.to_bushing),
            (WASHER, c.to_washer),
            (CRANKCASE, c.engine_heat * 0.35),
            (CRANK, c.engine_heat * 0.03),
        ];
        for (i, rate) in rows {
            for (&j, slope) in at.iter().zip(&rate.d) {
                m.add(i, j, slope * per[i]);
            }
        }
        let mut link = |i: usize, j: usize, of_i: f64, of_j: f64| {
            m.add(i, i, -of_i * per[i]);
            m.add(i, j, of_j * per[i]);
            m.add(j, i, of_i * per[j]);
            m.add(j, j, -of_j * per[j]);
        };
        let air = [air_speed(y[0]), air_speed(y[1])];
        for &(i, area, share, drum) in &SURFACES {
            let g = area * (8.0 + share * air[usize::from(drum)].0);
            link(i, CAVITY, g, g);
        }
        let cube = |t: f64| 4.0 * t * t * t;
        for &(i, radiation) in &RADIANT {
            link(i, CAVITY, radiation * cube(y[i]), radiation * cube(y[CAVITY]));
        }
        for &(i, area, share, drum) in &SURFACES {
            let drum = usize::from(drum);
            let slope = area * share * air[drum].1 * (y[i] - y[CAVITY]);
            m.add(i, drum, -slope * per[i]);
            m.add(CAVITY, drum, slope * per[CAVITY]);
        }
        m.add(SPROCKET, SPROCKET, -0.01 * (8.0 + air[1].0) * per[SPROCKET]);
        m.add(SPROCKET, 1, -0.01 * air[1].1 * (y[SPROCKET] - AMBIENT) * per[SPROCKET]);
        for &(i, area, of_drum, of_engine) in &OUTER {
            let (_, slope) = outside(area, of_drum * air[1].0 + of_engine * air[0].0, y[i]);
            m.add(i, i, -slope * per[i]);
            if of_drum != 0.0 {
                m.add(i, 1, -of_drum * air[1].1 * (y[i] - AMBIENT) * per[i]);
            }
            m.add(i, 0, -of_engine * air[0].1 * (y[i] - AMBIENT) * per[i]);
        }
    }

    fn abs_tol(&self) -> &[f64] {
        &self.abs_tol
    }

    fn slow_rates(&self, _t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        let bushing = y[BUSHING];
        let hotter = |at: f64, t: f64| 1.0 / at - 1.0 / t;
        let left = slow[OIL];
        let oil = left * (1.0 - 0.5 * slow[AGED]);
        let speed = y[1] / 250.0;
        let evaporated = libm::exp(85e3 / GAS * hotter(393.15, bushing)) / 360e3;
        let flung = if speed == 0.0 { 0.0 } else { left * speed * speed * libm::exp((bushing - 353.0) / 40.0) / 540e3 };
        out.fill(0.0);
        out[OIL] = -left * (evaporated + flung);
        out[AGED] = (1.0 - slow[AGED]) * libm::exp(100e3 / GAS * hotter(393.15, bushing)) / 1080e3;
        out[RELAXED] = (0.08 - slow[RELAXED]) * libm::exp(120e3 / GAS * hotter(473.15, y[SPRING])) / 180e3;
        out[BUSHING_INTEGRAL] = (bushing - AMBIENT) / 3600.0;
        if self.clutch == Clutch::Lock || y[0] == y[1] {
            return;
        }
        let carried = self.carried(y, slow);
        let relative = y[0] - y[1];
        let slide = sliding(relative);
        let heat = carried * relative;
        if heat != 0.0 {
            out[LINING_WEAR] = 1e6 * (3e-14 / 0.35) * libm::exp((y[LINING] - 373.0) / 80.0) * heat / 0.0028;
            out[DRUM_WEAR] = 1e6 * (1e-15 / 0.35) * heat / 0.0085;
        }
        out[WASHER_WEAR] = 1e6 * 5e-14 * libm::exp((y[WASHER] - 373.0) / 60.0) * 15.0 * 0.012 * slide / 2e-4;
        let pressed = 20.0 + carried.abs() / 0.03;
        out[BUSHING_WEAR] = 1e6 * 1e-15 * (1.0 + 50.0 * libm::exp(-10.0 * oil)) * pressed * 0.008 * slide / 3.2e-4;
    }

    fn guards(&self, _t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        out.fill(1.0);
        match self.clutch {
            Clutch::Open => out[0] = -Self::force(slow, y[0]),
            Clutch::Slip(sign) => {
                out[0] = Self::force(slow, y[0]);
                out[1] = sign * (y[0] - y[1]);
            }
            Clutch::Lock => out[0] = self.grip(y, slow),
        }
        out[2] = if self.moving { y[1] } else { self.load(y[1]) - self.carried(y, slow) };
    }

    fn cross(&mut self, guard: usize, t: f64, y: &mut [f64], slow: &[f64]) -> Flow {
        self.events.push(t);
        match (guard, self.clutch) {
            (0, Clutch::Open) => self.clutch = Clutch::Slip((y[0] - y[1]).signum()),
            (0, Clutch::Slip(_)) => self.clutch = Clutch::Open,
            (0, Clutch::Lock) => self.clutch = Clutch::Slip(self.carried(y, slow).signum()),
            (1, Clutch::Slip(sign)) => {
                if self.moving && self.grip(y, slow) >= 0.0 {
                    let common = (ENGINE_INERTIA * y[0] + VEHICLE_INERTIA * y[1]) / BOTH;
                    y[..2].fill(common);
                    self.clutch = Clutch::Lock;
                } else {
                    self.clutch = Clutch::Slip(-sign);
                }
            }
            _ => {
                self.moving = !self.moving;
                y[1] = if self.moving { y[1] } else { 0.0 };
            }
        }
        Flow::Continue
    }

    fn mode(&self) -> u64 {
        let clutch = match self.clutch {
            Clutch::Open => 0,
            Clutch::Slip(sign) => 1 + u64::from(sign > 0.0),
            Clutch::Lock => 3,
        };
        (self.phase.number * 4 + clutch) * 2 + u64::from(self.moving)
    }

    fn accepted(&mut self, step: &Step<'_>) {
        self.bushing_friction = bushing_friction(step.slow[OIL], step.slow[AGED]);
        let [a, m, b] = [step.before, step.middle, step.after].map(|y| y[LINING]);
        let (slope, bend) = (0.5 * (b - a), a - 2.0 * m + b);
        let inside = if bend < 0.0 { (-slope / (2.0 * bend)).clamp(-0.5, 0.5) } else { 0.0 };
        for (share, value) in [(0.5 + inside, m + 2.0 * inside * (slope + inside * bend)), (1.0, b)] {
            if value > self.peak.0 {
                self.peak = (value, step.start + share * step.length);
            }
        }
    }
}
