//! The answer on a season: many sampled seasons of the shop's carts, the same for every policy.

use super::check::{beside, mapped};
use super::constants::Constants;
use super::needs::difference;
use super::shop::{Sampled, Shop, typical};
use super::wish::Wish;
use crate::document::record::Setting;
use crate::document::season::{Asked, Mapped, Paired, Season};
use crate::document::{Head, Is};
use crate::parallel::each;
use crate::simulate::Failure;
use crate::spring_choice::{self, InPlace, in_place_of_own};
use crate::units::RPM;

/// Engagement closer to the idle than this makes rates steep, rad/s.
const NEAR: f64 = 100.0 * RPM;
/// Carts simulated through if that is asked for.
const THROUGH: u64 = 3;

/// Number of trials of an answer.
pub fn trials(wish: &Wish) -> u64 {
    let through = if wish.direct { THROUGH.min(wish.carts) } else { 0 };
    wish.clutches + beside(wish.carts) + wish.samples * wish.policies.len() as u64 + through
}

/// Computes the answer; `done` is called for each trial. Of carts that must not be ridden in the use nothing is simulated but the use:
/// parts to have would be the wrong advice.
pub fn plan(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<Season, Failure> {
    let season = begun(wish)?;
    if !season.may_ride() {
        return Ok(season);
    }
    let map = mapped(wish, done)?;
    let shop = Shop { wish, map: &map, days: wish.days() };
    let direct = each(beside(wish.carts) as usize, |cart| {
        let direct = shop.beside(cart as u64);
        done();
        direct
    });
    let direct = direct.into_iter().flatten().collect();
    let seasons: Vec<Vec<Sampled>> = wish
        .policies
        .iter()
        .map(|policy| {
            let seasons = each(wish.samples as usize, |sample| {
                let one = shop.sampled(sample as u64, policy);
                done();
                one
            });
            seasons.into_iter().collect::<Result<_, Failure>>()
        })
        .collect::<Result<_, Failure>>()?;
    let over = |k: usize, of: fn(&Sampled) -> f64| seasons[k].iter().map(of).collect::<Vec<f64>>();
    let pair = |other: usize| {
        let compared = |of: fn(&Sampled) -> f64| difference(&over(0, of), &over(other, of));
        Paired {
            other: other as u64,
            parts: compared(|one| one.total),
            down: compared(|one| one.down.iter().sum()),
            cost: wish.prices.as_ref().map(|_| compared(|one| one.cost)),
        }
    };
    let near = |sample: u64| {
        let engages = |cart| map.constants.sampled(&wish.machine, shop.levels(sample, cart)).0;
        (0..wish.carts).map(engages).filter(|machine| machine.first_touch() - machine.motor.idle < NEAR).count()
    };
    let near: usize = each(wish.samples as usize, |sample| near(sample as u64)).into_iter().sum();
    let followed = if wish.direct { shop.through(typical(&seasons[0]), done) } else { vec![] };
    Ok(Season {
        policies: shop.outcomes(&seasons)?,
        pairs: (1..wish.policies.len()).map(pair).collect(),
        samples: wish.samples,
        split: map.constants.split(),
        map: map.account(direct, followed),
        near_idle: near as f64 / (wish.samples * wish.carts).max(1) as f64,
        worn_before: shop.worn_before()?,
        ..season
    })
}

/// The answer before anything is sampled: the question, and whether the carts may be ridden so.
fn begun(wish: &Wish) -> Result<Season, Failure> {
    let asked = spring_choice::Wish::new(wish.hottest(), wish.usage.clone());
    let asked = spring_choice::Wish { wander: wish.wander, ..asked };
    let InPlace { against, renewed, sought } = in_place_of_own(&asked, false)?;
    Ok(Season {
        kind: Is::default(),
        head: Head { seeds: vec![wish.seed], ..Head::default() },
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        oil: wish.machine.oil.name.clone(),
        wrong_oil: wish.machine.oil.is_wrong(),
        drop: wish.machine.oiling.drop,
        question: Asked {
            carts: wish.carts,
            wander: wish.wander,
            first: wish.dates.0,
            last: wish.dates.1,
            weekdays: wish.weekdays,
            hours: wish.hours,
            days: wish.days().iter().filter(|day| day.open).count() as u64,
            temperatures: wish.temperatures.clone(),
            used: wish.used.clone(),
            stock: wish.stock.clone(),
            lead: wish.lead,
            prices: wish.prices.clone(),
        },
        policies: vec![],
        pairs: vec![],
        samples: 0,
        split: Constants::of(wish).split(),
        map: Mapped::default(),
        against,
        renewed,
        sought,
        near_idle: 0.0,
        worn_before: vec![],
        settings: Setting::all(&wish.machine),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::Date;
    use crate::document::calibration::Learned;
    use crate::document::season::{Event, Happened, Oiling, Policy, Rate, SPARES, ServiceDays};
    use crate::laws::margin::VARIATION;
    use crate::names::Part;
    use crate::parts::Machine;
    use crate::season::clutch::Clutch;
    use crate::season::map::Map;
    use crate::season::{Cart, Day};
    use crate::simulate::{Options, Simulation};
    use crate::spread::Levels;
    use crate::usage::Usage;
    use std::sync::OnceLock;

    fn wish() -> Wish {
        let machine = Machine::default();
        let usage = Usage::named("moderate", &machine).expect("a use");
        let date = |text| Date::read(text).expect("a date");
        let weekly = Oiling { drops: 4.0, on: ServiceDays::Weekday(0), before_opening: false };
        Wish {
            machine,
            usage,
            wander: VARIATION,
            carts: 4,
            dates: (date("2027-05-01"), date("2027-08-31")),
            weekdays: [true; 7],
            hours: 14_400.0,
            temperatures: vec![(5, 283.15), (6, 293.15), (7, 298.15), (8, 293.15)],
            policies: vec![
                Policy { oiling: Some(weekly), preventive: None },
                Policy { oiling: None, preventive: None },
            ],
            used: vec![],
            stock: vec![],
            lead: None,
            prices: None,
            learned: vec![],
            direct: false,
            samples: 20,
            clutches: 300,
            seed: 1,
        }
    }

    fn map() -> &'static Map {
        static MAP: OnceLock<Map> = OnceLock::new();
        MAP.get_or_init(|| mapped(&wish(), &|| {}).expect("a map"))
    }

    fn clutch(machine: &Machine) -> Clutch<'static> {
        Clutch::new(map(), machine, Levels { seed: 1, shop: 3, clutch: 0 }).expect("a cart")
    }

    fn day(hours: f64) -> Day {
        Day { date: Date(0), open: true, hours, temperature: 293.15 }
    }

    #[test]
    fn twice_the_washers_wear_constants_halve_its_life_in_the_map() {
        let worn = |factor: f64| {
            let mut machine = Machine::default();
            machine.washer.wear_oiled *= factor;
            machine.washer.wear_dry *= factor;
            let mut cart = clutch(&machine);
            assert_eq!(cart.ride(&day(3600.0)), None);
            cart.depths()[2]
        };
        assert!((worn(2.0) / worn(1.0) - 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_new_part_is_unused_and_the_others_stay_as_they_were() {
        let mut cart = clutch(&Machine::default());
        cart.ride(&day(36_000.0));
        let before = SPARES.map(|part| cart.used(part));
        cart.renew(Part::Lining);
        let after = SPARES.map(|part| cart.used(part));
        assert!(before[1] > 0.0 && after[1] == 0.0);
        assert_eq!([before[0], before[2]], [after[0], after[2]]);
    }

    #[test]
    fn drops_fill_a_bushing_and_refresh_its_oil() {
        let ride = |drops: f64| {
            let mut cart = clutch(&Machine::default());
            for k in 0..12 {
                let day = Day { date: Date(k), ..day(14_400.0) };
                cart.ride(&day);
                cart.oil(if k == 10 { drops } else { 0.0 }, &day, false);
            }
            cart
        };
        let (never, once) = (ride(0.0), ride(4.0));
        let full = Simulation::new(Machine::default(), Options::UNRECORDED).expect("a machine").full_mass();
        let dose = 4.0 * once.machine().drop_mass(&once.machine().oil) / full;
        let kept = (once.depths()[3] - never.depths()[3]) / dose;
        assert!((0.2..0.98).contains(&kept), "{kept}");
    }

    /// The workshop is closed for two days after a ride: by the second evening most of the film has gone into the pores or away.
    #[test]
    fn drops_on_a_closed_day_meet_the_oil_that_the_days_before_have_left() {
        let oiled = |closed: i64| {
            let mut cart = clutch(&Machine::default());
            cart.ride(&day(14_400.0));
            let at_closing = cart.film();
            cart.oil(4.0, &Day { date: Date(closed), open: false, ..day(14_400.0) }, false);
            let dose = 4.0 * cart.machine().drop_mass(&cart.machine().oil);
            (cart.film() - dose) / at_closing
        };
        assert!((oiled(0) - 1.0).abs() < 1e-9, "at closing nothing has flowed yet");
        let left = oiled(2);
        assert!((0.0..0.9).contains(&left), "{left}");
    }

    /// The map against simulations launch by launch for two weeks: oil up to 0.02 of a full bushing lower, wear no more than 2 % low, and
    /// no more than 15 % high, of the bore 40 %: each day counts as warm from its first minute, and the map is raised.
    #[test]
    fn sampled_carts_wear_and_lose_oil_as_their_simulations_do() {
        let wish = wish();
        let shop = Shop { wish: &wish, map: map(), days: wish.days() };
        let all: Vec<_> = each(6, |cart| shop.beside(cart as u64));
        for direct in all {
            let direct = direct.expect("no part is at its limit in two weeks");
            for worn in [direct.lining, direct.washer] {
                assert!((0.98..1.15).contains(&worn), "{direct:?}");
            }
            assert!((0.98..1.40).contains(&direct.bore) && (-0.02..0.003).contains(&direct.fill), "{direct:?}");
        }
    }

    /// The oil that clutches held back lose is that of their simulation within 5 % in the median, on neither side mostly; once raised, no
    /// more than 2 of 39 lose too little, and no more bores wear too little.
    fn assert_held_back(name: &str, map: &Map) {
        let errors = map.account(vec![], vec![]).errors;
        let known = |rate| errors.iter().find(|known| known.rate == rate).expect("an error");
        let (oil, bore) = (known(Rate::Oil), known(Rate::Bore));
        assert!(oil.median < 0.05 && (0.25..=0.75).contains(&oil.low), "{name}: {oil:?}");
        assert!(bore.median < 0.07, "{name}: {bore:?}");
        let over = map.held_back.iter().map(|(machine, normals, probe)| {
            let [lost, bore] = Clutch::followed(map, machine, normals, probe).expect("a cart");
            [lost / probe.lost, bore / probe.bore]
        });
        let over: Vec<[f64; 2]> = over.collect();
        for k in 0..2 {
            let low = over.iter().filter(|over| over[k] < 1.0).count();
            assert!(20 * low <= over.len() + 1, "{name}: {low} of {} too low, {oil:?}, {bore:?}", over.len());
        }
    }

    #[test]
    fn clutches_held_back_lose_oil_as_simulated_within_5_per_cent_and_once_raised_hardly_ever_more() {
        assert_held_back("standard", map());
    }

    #[test]
    #[ignore = "four minutes"]
    fn clutches_held_back_of_three_carts_lose_oil_as_simulated() {
        for (name, text) in [
            ("trail", include_str!("../../../scripts/parts/trail-cart.json")),
            ("orchard", include_str!("../../../scripts/parts/orchard-cart.json")),
            ("weekend", include_str!("../../../scripts/parts/weekend-cart.json")),
        ] {
            let machine = crate::parts_file::read(name, text).expect("a machine");
            let usage = Usage::named("rental", &machine).expect("a use");
            let temperatures = vec![(5, 281.15), (6, 285.15), (7, 291.15), (8, 295.15)];
            let wish = Wish { machine, usage, clutches: 400, temperatures, ..wish() };
            assert_held_back(name, &mapped(&wish, &|| {}).expect("a map"));
        }
    }

    #[test]
    fn springs_that_relax_change_the_wear_of_the_lining_in_the_map() {
        let worn = |relaxation: f64| {
            let mut cart = clutch(&Machine::default());
            cart.relax(relaxation);
            cart.ride(&day(3600.0));
            cart.depths()[0]
        };
        let by = worn(0.08) / worn(0.0);
        assert!((by - 1.0).abs() > 0.02, "{by}");
    }

    /// Without a washer in stock carts that wait are not oiled, but what to have is the oil of carts that ride.
    #[test]
    fn oil_is_counted_with_every_part_at_hand_as_the_parts_are() {
        let counted = |stock: Vec<(Part, u64)>| {
            let wish = Wish { stock, used: vec![(Part::Washer, 3.6e6)], ..wish() };
            let shop = Shop { wish: &wish, map: map(), days: wish.days() };
            let samples = (0..wish.samples).map(|sample| shop.sampled(sample, &wish.policies[0]));
            let seasons: Vec<Sampled> = samples.collect::<Result<_, Failure>>().expect("seasons");
            let outcome = shop.outcome(&wish.policies[0], &seasons, 0).expect("an outcome");
            (outcome.oil.to_bits(), outcome.oilings, outcome.down.mean)
        };
        let (plenty, none) = (counted(vec![]), counted(vec![(Part::Washer, 0)]));
        assert!(none.2 > 2.0 * plenty.2, "carts wait: {none:?}, {plenty:?}");
        assert_eq!((none.0, none.1), (plenty.0, plenty.1));
    }

    /// Rules are compared in one sampled season, though another one is typical of the second rule.
    #[test]
    fn the_events_of_every_policy_are_those_of_one_sampled_season() {
        let wish = Wish { carts: 12, ..wish() };
        let shop = Shop { wish: &wish, map: map(), days: wish.days() };
        let sampled = |policy| (0..wish.samples).map(|k| shop.sampled(k, policy)).collect::<Result<Vec<_>, Failure>>();
        let seasons: Vec<Vec<Sampled>> = wish.policies.iter().map(|p| sampled(p).expect("seasons")).collect();
        let [own, other] = [typical(&seasons[0]), typical(&seasons[1])];
        assert_ne!(own, other);
        for (outcome, policy) in shop.outcomes(&seasons).expect("outcomes").iter().zip(&wish.policies) {
            assert_eq!(outcome.events, shop.log(own, policy, &wish.shelf()).expect("a season").events);
        }
    }

    #[test]
    fn parts_used_longer_than_half_of_the_carts_wear_them_are_named_with_their_life() {
        let worn = |hours: f64| {
            let wish = Wish { used: vec![(Part::Lining, hours * 3600.0)], ..wish() };
            Shop { wish: &wish, map: map(), days: wish.days() }.worn_before().expect("carts")
        };
        let [one] = worn(50_000.0)[..] else { panic!("worn out by any cart") };
        assert_eq!((one.part, one.share), (Part::Lining, 1.0));
        let life = one.life / 3600.0;
        assert!(worn(0.95 * life).is_empty(), "{life} h");
        // The median life is that of half of the carts, whatever is given.
        let [just] = worn(1.05 * life)[..] else { panic!("{life} h") };
        assert!((just.life / one.life - 1.0).abs() < 1e-6 && (0.5..1.0).contains(&just.share), "{just:?}");
    }

    /// A lining's wear constant learned within a factor of 1.05, common and apart.
    #[test]
    fn a_calibration_that_narrows_a_constant_narrows_the_stock() {
        let known = Learned {
            path: "lining.wear".to_owned(),
            unit: String::new(),
            before: 0.0,
            before_factor: 2.8,
            value: Machine::default().lining.wear,
            factor: 1.05,
            clutches_factor: 1.05,
            spread: 1.07,
            from: vec![],
        };
        let policy = Policy { preventive: None, ..wish().policies[0] };
        let asked = |learned: Vec<Learned>| Wish { clutches: 60, samples: 40, hours: 28_800.0, learned, ..wish() };
        let linings = |learned: Vec<Learned>| {
            let wish = asked(learned);
            let map = mapped(&wish, &|| {}).expect("a map");
            let shop = Shop { wish: &wish, map: &map, days: wish.days() };
            let seasons = each(wish.samples as usize, |sample| shop.sampled(sample as u64, &policy));
            let seasons: Vec<Sampled> = seasons.into_iter().collect::<Result<_, Failure>>().expect("seasons");
            shop.outcome(&policy, &seasons, 0).expect("an outcome").needs[1]
        };
        let common = |learned: Learned| {
            let split = Constants::of(&asked(vec![learned])).split();
            split.iter().find(|one| one.path == "lining.wear").map(|one| one.common)
        };
        let (guessed, learned) = (linings(vec![]), linings(vec![known.clone()]));
        assert!(learned.stock < guessed.stock && learned.most - learned.half < guessed.most - guessed.half);
        // Of two equal factors each has half of the variance.
        assert!(common(known.clone()).is_some_and(|share| (share - 0.5).abs() < 1e-9));
        let apart = Learned { factor: 1.0, clutches_factor: 1.4, ..known };
        assert!(common(apart).is_some_and(|share| share == 0.0));
    }

    #[test]
    fn the_numbers_of_an_answer_agree() {
        let used = [Part::Washer, Part::Lining, Part::Bushing].map(|part| (part, 4000.0 * 3600.0)).into();
        let wish = Wish { clutches: 60, dates: (Date(20_003), Date(20_033)), hours: 7200.0, used, ..wish() };
        let answer = plan(&wish, &|| {}).expect("an answer");
        for need in &answer.policies[0].needs {
            assert!(
                need.half <= need.nine_tenths && need.nine_tenths <= need.most && need.stock == need.nine_tenths,
                "{need:?}"
            );
        }
        for outcome in &answer.policies {
            // What a shop needs is what is fitted: also parts that are at their limit as another stops the cart.
            let needed: f64 = outcome.needs.iter().map(|need| need.mean).sum();
            let renewed: f64 = outcome.weeks.iter().map(|week| week.renewed).sum();
            assert!(needed > 1.0 && (needed - renewed).abs() < 1e-9, "{needed} {renewed}");
            let count = |fits: fn(&Event) -> bool| outcome.events.iter().filter(|event| fits(event)).count();
            assert!(count(|event| event.what.fits()) > count(|event| event.what == Happened::Stopped));
        }
        // Thirty-one days from 7 October 2024, a Monday, have five; carts that stop on the first miss that.
        let [weekly, never] = &answer.policies[..] else { panic!("two policies") };
        assert_eq!((weekly.oilings, never.oilings), (5, 0));
        assert!(3.0 < weekly.oiled && weekly.oiled < 5.0 && never.oiled == 0.0, "{}", weekly.oiled);
        // A week loses some of the bushing's oil, and no more than all.
        let filled = Simulation::new(wish.machine.clone(), Options::UNRECORDED).expect("a simulation").full_mass();
        let full = filled / wish.machine.drop_mass(&wish.machine.oil);
        assert!(0.1 < weekly.lacked && weekly.lacked < full && never.lacked == 0.0, "{} of {full}", weekly.lacked);
        // As many drops as nearly every bushing lacks, in whole ones, and never more than are asked for.
        assert!(weekly.lacked < weekly.lacked_most && weekly.lacked_most < full && never.lacked_most == 0.0);
        let dose = weekly.dose().expect("a dose");
        assert!(dose.fract() == 0.0 && dose < weekly.lacked_most + 1.0 && (1.0..=4.0).contains(&dose), "{dose}");
        assert_eq!(never.dose(), None);
        assert!((weekly.oil - 5.0 * 4.0 * 4.0 * wish.machine.oiling.drop).abs() < 1e-15, "{}", weekly.oil);
        assert!(answer.policies[1].due >= answer.policies[0].due, "oil is due less often where it is put on");
        assert_eq!(answer.map.failed, 0);
    }
}
