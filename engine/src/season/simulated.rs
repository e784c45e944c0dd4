//! A sampled cart simulated launch by launch, against which the map's is held.

use super::clutch::{Clutch, EARLY, at_limit, used_of};
use super::constants::{Constants, of_part};
use super::day::Day;
use super::workshop::Cart;
use crate::calendar::Date;
use crate::document::season::SPARES;
use crate::duty::{End, Segment, Service, Task};
use crate::names::{Channel, Part};
use crate::parts::{Machine, Parameter, settings};
use crate::simulate::carried::{AGE, BORE, DOSE, LINING, RELAXATION, WASHER};
use crate::simulate::{Failure, Options, Simulation};
use crate::spread::Levels;
use crate::units::DAY;
use crate::usage::Usage;

/// A simulated cart. Its clock starts at the opening of the first day.
pub struct Simulated<'a> {
    sim: Simulation,
    usage: &'a Usage,
    first: Date,
    constants: &'a Constants,
    levels: Levels,
    /// the machine with its first parts
    machine: Machine,
    renewals: [u64; SPARES.len()],
    failed: Option<Failure>,
}

impl<'a> Simulated<'a> {
    /// The same cart as one of the map, as worn as that.
    pub fn new(
        of: &Clutch,
        constants: &'a Constants,
        levels: Levels,
        usage: &'a Usage,
        first: Date,
    ) -> Result<Self, Failure> {
        let machine = of.machine().clone();
        let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
        let w = of.worn();
        let worn = [
            (LINING, w.lining),
            (BORE, w.bore),
            (WASHER, w.washer),
            (AGE, w.ageing),
            (DOSE, w.charring),
            (RELAXATION, w.relaxation),
        ];
        if worn.iter().any(|(_, value)| *value > 0.0) {
            sim.start_worn(&worn);
        }
        let renewals = [0; SPARES.len()];
        Ok(Self { sim, usage, first, constants, levels, machine, renewals, failed: None })
    }

    /// Wear of lining, bore and washer, m, and the oil in pores and film over a full bushing's.
    pub fn depths(&self) -> [f64; 4] {
        let of = |channel| self.sim.reading(channel);
        let fill = of(Channel::OilFill) + of(Channel::Film) / self.sim.full_mass();
        [of(Channel::LiningWear), of(Channel::BushingWear), of(Channel::WasherWear), fill]
    }

    /// Why it could not be simulated to the end, if so.
    pub fn failed(&self) -> Option<&Failure> {
        self.failed.as_ref()
    }

    /// Does something, unless it has failed before.
    fn attempt(&mut self, step: impl FnOnce(&mut Self) -> Result<(), Failure>) {
        if self.failed.is_none() {
            self.failed = step(self).err();
        }
    }

    fn serve(&mut self, service: Service) -> Result<(), Failure> {
        self.sim.perform(&Segment::Service(service))
    }

    fn adjust(&mut self, setting: &'static Parameter, value: f64) -> Result<(), Failure> {
        self.serve(Service::Adjust(setting, value))
    }

    /// Stands until a time after the opening of a day, s, at that day's temperature.
    fn stand(&mut self, day: &Day, time: f64) -> Result<(), Failure> {
        if (self.sim.machine().surroundings.ambient - day.temperature).abs() > 1e-9 {
            self.adjust(&settings::surroundings::ambient, day.temperature)?;
        }
        let left = (day.date.0 - self.first.0) as f64 * DAY + time - self.sim.clock();
        if left > 0.0 { self.sim.perform(&Segment::Ride(Task::Off, End::After(left))) } else { Ok(()) }
    }

    fn part_used(&self, part: Part) -> f64 {
        part.row().use_at(self.sim.machine(), &|channel| self.sim.reading(channel))
    }

    /// Rides until a part is at its limit; returns that, and the time ridden, s.
    fn rode(&mut self, day: &Day) -> Result<Option<(Part, f64)>, Failure> {
        self.stand(day, 0.0)?;
        let start = self.sim.clock();
        while self.sim.clock() - start < day.hours - 1e-6 {
            self.usage.ride(&mut self.sim, 1.0)?;
            if let Some((part, _)) = at_limit(|part| self.part_used(part)) {
                return Ok(Some((part, self.sim.clock() - start)));
            }
            self.sim.going()?;
        }
        Ok(None)
    }
}

impl Cart for Simulated<'_> {
    fn ride(&mut self, day: &Day) -> Option<(Part, f64)> {
        let mut reached = None;
        self.attempt(|cart| {
            reached = cart.rode(day)?;
            Ok(())
        });
        reached.map(|(part, time)| (part, (time / day.hours).min(1.0)))
    }

    fn used(&self, wanted: Part) -> f64 {
        used_of(wanted, |part| self.part_used(part))
    }

    fn renew(&mut self, spare: Part) {
        let Some(k) = SPARES.iter().position(|one| *one == spare) else { return };
        self.renewals[k] += 1;
        let quality = self.constants.renewed(self.levels, spare, self.renewals[k]);
        self.attempt(|cart| {
            cart.serve(Service::New(spare))?;
            for p in of_part(spare) {
                let value = (p.of)(&cart.machine) * quality;
                cart.adjust(p, value.clamp(p.least, p.most))?;
            }
            Ok(())
        });
    }

    fn oil(&mut self, drops: f64, day: &Day, before_opening: bool) {
        self.attempt(|cart| {
            cart.stand(day, if before_opening { -EARLY } else { day.hours })?;
            cart.serve(Service::Oil { drops, oil: cart.machine.oil.clone() })
        });
    }

    fn oil_due(&self) -> bool {
        self.sim.reading(Channel::OilFill) <= self.machine.limits.oil_service
    }
}
