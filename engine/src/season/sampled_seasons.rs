//! Tests: answers from sampled seasons.

use super::check::mapped;
use super::constants::Constants;
use super::example::{map, wish};
use super::plan::plan;
use super::shop::{Sampled, Shop, typical};
use super::wish::Wish;
use crate::calendar::Date;
use crate::document::calibration::Learned;
use crate::document::season::{Event, Happened, Policy};
use crate::names::Part;
use crate::parallel::each;
use crate::parts::Machine;
use crate::simulate::{Failure, Options, Simulation};

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
    let asked = |learned: Vec<Learned>| Wish { clutches: 60, samples: 20, hours: 28_800.0, learned, ..wish() };
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
