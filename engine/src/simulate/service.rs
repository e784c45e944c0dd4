//! Services: oiling, grease, new parts, adjustment.

use super::failure::Failure;
use super::sane::within;
use super::simulation::Simulation;
use crate::duty::{self, Service};
use crate::laws::oil::Walther;
use crate::life::Pair;
use crate::model::{slow, state};
use crate::names::{Happening, Part, Supply};
use crate::parts::{Invalid, Oil};
use crate::real::Real;

impl Simulation {
    pub(super) fn serve(&mut self, service: &Service) -> Result<(), Failure> {
        let mut machine = self.assembly.machine.clone();
        let held = self.books.held(&self.assembly, &self.y, &self.slow);
        self.use_up(service);
        if matches!(service, Service::Oil { .. } | Service::Grease(_)) {
            self.books.begin_oil(self.time, &self.y);
        }
        match service {
            Service::Oil { drops, oil } => self.oil(*drops, oil)?,
            Service::Grease(volume) => {
                within(&duty::GREASE, *volume)?;
                let mass = volume * self.assembly.density_20;
                self.y[state::GREASE] += mass;
                self.assembly.grease_charge = self.y[state::GREASE];
                self.books.oil_put_on += mass;
                self.assembly.note(self.time, Happening::Greased);
            }
            Service::Found(fill) => {
                within(&duty::FILL, *fill)?;
                let kept = 0.5 * self.assembly.clearance_volume * Real::smooth((fill - 0.2) / 0.5);
                for (node, mass) in
                    [(state::PORES, fill * self.assembly.full_mass), (state::FILM, kept * self.assembly.density_20)]
                {
                    if self.time == 0.0 {
                        // At the start the fill belongs to the opening balance.
                        self.books.opening[node] = mass;
                        self.y[node] = mass;
                    } else {
                        self.swap(node, mass);
                    }
                }
                self.assembly.note(self.time, Happening::Found);
            }
            Service::New(part) => self.renew(*part)?,
            Service::Spring(engagement) => {
                machine.clutch.engagement = *engagement;
                machine.renew_set();
                machine.check()?;
                self.assembly.machine = machine;
                self.renew(Part::Spring)?;
            }
            Service::Adjust(setting, value) => {
                machine.change(|m| (setting.put)(m, *value));
                machine.check()?;
                self.assembly.machine = machine;
                self.assembly.note(self.time, Happening::Adjusted);
            }
        }
        let followed = self.assembly.shoes.differ;
        self.assembly.derive();
        if self.assembly.shoes.differ && !followed {
            // Until now all shoes wore alike.
            let worn = self.slow[slow::LINING];
            self.slow[slow::SHOES..].fill(worn);
        }
        self.stepper.refresh(&self.assembly);
        if matches!(service, Service::Adjust(..)) {
            self.books.adjust(&held, &self.books.held(&self.assembly, &self.y, &self.slow));
        }
        self.assembly.settle(self.time, &mut self.y, &self.slow);
        self.watch.recorder.interrupt();
        Ok(())
    }

    fn use_up(&mut self, service: &Service) {
        let new = |part: Part| part.row().renewal.as_ref().map(|new| (new.supply, 1.0));
        let used = match service {
            Service::Oil { drops, .. } => Some((Supply::Drops, *drops)),
            Service::Grease(volume) => Some((Supply::Grease, volume * 1e6)),
            Service::New(part) => new(*part),
            Service::Spring(_) => new(Part::Spring),
            Service::Found(_) | Service::Adjust(..) => None,
        };
        if let Some((supply, amount)) = used {
            self.supplies[supply as usize] += amount;
        }
    }

    /// Replaces a part by a new one.
    fn renew(&mut self, part: Part) -> Result<(), Failure> {
        let Some(new) = &part.row().renewal else {
            let what = format!("there is no new {part} to be put in; renew the part that wears it");
            return Err(Invalid::Contradiction { what }.into());
        };
        self.take_off(part);
        match part {
            Part::Lining => {
                self.books.oil_removed += self.y[state::LINING_OIL..=state::SOAKED].iter().sum::<f64>();
                self.y[state::LINING_OIL..=state::SOAKED].fill(0.0);
                self.slow[slow::GLAZE] = 0.0;
            }
            Part::Washer => {
                (self.slow[slow::AGE], self.slow[slow::DOSE]) = (0.0, 0.0);
                self.swap(state::WASHER_OIL, self.assembly.washer_full);
            }
            Part::Bushing => {
                (self.slow[slow::OXIDATION], self.y[state::SCORE]) = (0.0, 0.0);
                let fresh = self.assembly.fresh();
                self.swap(state::PORES, fresh[state::PORES]);
                self.swap(state::FILM, fresh[state::FILM]);
                self.assembly.lasting = self.assembly.machine.oil.lasting;
                self.assembly.lasting_outside = self.assembly.lasting;
            }
            Part::Spring => {
                self.slow[slow::RELAXATION] = 0.0;
                self.assembly.machine.renew_set();
            }
            _ => {}
        }
        self.assembly.note(self.time, new.noted);
        Ok(())
    }

    /// Removes a worn part together with its worn volume.
    fn take_off(&mut self, part: Part) {
        let lacking = self.assembly.worn_volumes(&self.slow);
        for pair in Pair::ALL.into_iter().filter(|pair| pair.row().renewed_with == part) {
            self.books.worn_off[pair as usize] += lacking[pair as usize];
            self.slow[slow::depth(pair)] = 0.0;
            if pair == Pair::Lining {
                self.slow[slow::SHOES..].fill(0.0);
            }
        }
    }

    fn swap(&mut self, node: usize, mass: f64) {
        self.books.oil_removed += self.y[node];
        self.books.oil_of_parts += mass;
        self.y[node] = mass;
    }

    fn oil(&mut self, drops: f64, oil: &Oil) -> Result<(), Failure> {
        within(&duty::DROPS, drops)?;
        let a = &mut self.assembly;
        let dose = drops * a.machine.drop_mass(oil);
        let held = self.y[state::PORES] + self.y[state::FILM];
        let share = dose / (held + dose).max(1e-12);
        self.slow[slow::OXIDATION] *= 1.0 - share;
        let mixed = |held: f64, share: f64| held * (1.0 - share) + oil.lasting * share;
        a.lasting = mixed(a.lasting, share);
        let outside = dose / (self.y[state::FILM] + dose).max(1e-12);
        a.lasting_outside = mixed(a.lasting_outside, outside).max(a.lasting);
        if oil.is_wrong() {
            a.most_lasting = a.most_lasting.max(a.lasting);
        }
        a.machine.oil = blend(&a.machine.oil, oil, share);
        self.y[state::FILM] += dose;
        self.books.oil_put_on += dose;
        a.note(self.time, Happening::Oiled);
        Ok(())
    }
}

/// Blend of two oils, with `share` of the mass from the new one: Walther's constants and densities are blended by mass,
/// as in blending charts (ASTM D7152 uses the same double logarithm).
fn blend(old: &Oil, new: &Oil, share: f64) -> Oil {
    if old == new {
        return old.clone();
    }
    let mix = |a: f64, b: f64| a * (1.0 - share) + b * share;
    let walther = |o: &Oil| Walther::through(313.15, o.viscosity_40, 373.15, o.viscosity_100);
    let (a, b) = (walther(old), walther(new));
    let mixed = Walther { a: mix(a.a, b.a), b: mix(a.b, b.b) };
    Oil {
        name: format!("{} topped up with {}", old.name.split(" topped").next().unwrap_or(&old.name), new.name),
        viscosity_40: mixed.kinematic(313.15),
        viscosity_100: mixed.kinematic(373.15),
        density_15: mix(old.density_15, new.density_15),
        tension_20: mix(old.tension_20, new.tension_20),
        tension_slope: mix(old.tension_slope, new.tension_slope),
        lasting: mix(old.lasting, new.lasting),
        lasting_friction: if new.lasting > 0.0 { new.lasting_friction } else { old.lasting_friction },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::duty::{End, Segment, Task};
    use crate::parts::Machine;
    use crate::simulate::Options;

    #[test]
    fn services_that_add_oil_end_the_projection_of_the_oil() {
        let oil = Oil::default();
        for (service, brings) in [
            (Service::Oil { drops: 2.0, oil }, true),
            (Service::Grease(1e-7), true),
            (Service::Found(0.8), true),
            (Service::New(Part::Washer), true),
            (Service::New(Part::Bushing), true),
            (Service::New(Part::Lining), false),
            (Service::Spring(220.0), false),
        ] {
            let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
            sim.perform(&Segment::Ride(Task::Idle, End::After(1.0))).expect("it idles");
            sim.perform(&Segment::Service(service.clone())).expect("it is served");
            assert_eq!((sim.oil_brought, service.brings_oil()), (brings, brings), "{service:?}");
        }
    }
}
