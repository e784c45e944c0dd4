//! Rules of service in a season: which one is advised, with which drops, and at which cost.

use super::said::HOUR;
use crate::made_up::shop;
use slipsoak_engine::names::Part;
use slipsoak_engine::season::{Amount, Difference, Oiling, Prices, SPARES, Season, ServiceDays};
use slipsoak_engine::spring_choice::Reason;
use slipsoak_plots::words;

#[test]
fn the_calendars_number_of_oilings_comes_before_what_stopped_carts_miss_and_each_number_has_its_rule() {
    let mut season = shop::season();
    let said =
        |season: &Season| words::season::statement(season).iter().map(words::text::Words::text).collect::<Vec<_>>();
    let answer = said(&season).join(" ");
    let own = "with “4\u{a0}drops on Mondays, renewed from 80\u{a0}% of use”";
    for words in [
        "8\u{a0}times in the season; stopped carts miss some, so that it is 7 on average.",
        &format!("for these 3 carts this season {own}: of each by itself, 9 in 10 sampled seasons need no more"),
        &format!("in week 5 (1\u{a0}May) {own}, most often by its washer"),
        &format!("falls to its service level {own}"),
        &format!("cart-days are lost {own} and every part always at hand"),
    ] {
        assert!(answer.contains(words), "{words} not in {answer}");
    }
    // All parts together are enough more seldom than each by itself; of one part nothing is to be added.
    assert!(answer.contains(" All parts together, they are enough in 78\u{a0}% of the seasons."), "{answer}");
    for outcome in &mut season.policies {
        outcome.needs.iter_mut().skip(1).for_each(|need| (need.half, need.nine_tenths) = (0, 0));
    }
    assert!(!said(&season).join(" ").contains("All parts together"), "one part is needed");
    // One rule alone needs no name, and carts that miss no oiling no average.
    season.policies.truncate(1);
    season.pairs.clear();
    season.policies[0].oiled = 7.8;
    let answer = said(&season).join(" ");
    assert!(!answer.contains("with “") && answer.contains("8\u{a0}times in the season."), "{answer}");
}

/// A price of everything.
pub fn all_prices() -> Prices {
    let parts = SPARES.map(|part| (part, 20.0)).into();
    Prices { parts, visit: Some(15.0), oiling: Some(2.0), day_down: Some(60.0) }
}

#[test]
fn what_has_no_price_is_named_and_no_rule_is_advised_for_such_a_cost() {
    let mut season = rules(1.0, 80);
    for outcome in &mut season.policies {
        outcome.cost = Some(Amount { mean: 3.09, error: 0.1, nine_tenths: 6.0 });
    }
    season.pairs[0].cost = Some(Difference { mean: -210.0, error: 20.0, ..Difference::default() });
    season.question.prices = Some(all_prices());
    let said =
        |season: &Season| words::season::statement(season).iter().map(words::text::Words::text).collect::<String>();
    assert_eq!(words::season::advised(&season), 1, "it costs less");
    assert!(said(&season).contains("the season costs 3.09 on average"), "{}", said(&season));
    season.question.prices = Some(Prices { parts: vec![(Part::Washer, 3.0)], ..Prices::default() });
    assert_eq!(words::season::advised(&season), 0, "washers alone cost less");
    let answer = said(&season);
    assert!(!answer.contains("the season costs 3.09") && !answer.contains("At these prices"), "{answer}");
    // No set of springs is needed.
    let free = "linings, bushings, the work of fitting them, oiling and lost days have no price and count as free";
    assert!(answer.contains("What has a price costs 3.09 on average") && answer.contains(free), "{answer}");
}

/// The answer's first sentences.
fn begins(season: &Season) -> String {
    words::season::statement(season)[0].text()
}

#[test]
fn carts_that_do_not_fit_are_referred_to_a_command_that_judges_springs_for_them() {
    let mut season = shop::season();
    season.against = vec![Reason::NeverLocks];
    let asked = ["slipsoak", "season", "my cart.json", "--set", "vehicle.ratio=5", "--carts", "3", "--mass", "160 kg"];
    season.head.command = asked.map(str::to_owned).into();
    let all =
        |season: &Season| words::season::statement(season).iter().map(words::text::Words::text).collect::<String>();
    let said = all(&season);
    assert!(said.starts_with("Do not rent these carts out as they are. Choose a spring that fits first"), "{said}");
    let command = "`slipsoak choose 'my cart.json' --set vehicle.ratio=5 --mass '160 kg' --use rental --set 'surroundings.ambient=12.0 °C'`";
    assert!(said.contains(command), "{said}");
    season.head.command = vec!["slipsoak".to_owned(), "run".to_owned(), "shop.rhai".to_owned()];
    assert!(all(&season).contains(" `slipsoak choose` judges every spring"));
}

/// Three carts: more than two parts for each of all kinds, or a bushing that grabs in one of four carts.
#[test]
fn many_parts_of_all_kinds_or_many_bushings_that_grab_begin_the_answer() {
    let wrong = "The use or the service is wrong, not the stock";
    let with = |halves: [u64; 4], grabbed: f64| {
        let mut season = shop::season();
        for outcome in &mut season.policies {
            outcome.grabbed = grabbed;
            outcome.needs.iter_mut().zip(halves).for_each(|(need, half)| need.half = half);
        }
        begins(&season)
    };
    assert!(!with([3, 0, 3, 0], 0.0).starts_with(wrong) && !with([0, 0, 1, 0], 0.7).starts_with(wrong));
    assert!(with([3, 0, 3, 1], 0.0).starts_with(wrong) && with([0, 0, 1, 0], 0.8).starts_with(wrong));
    assert!(with([4, 0, 0, 0], 0.0).starts_with(wrong));
}

#[test]
fn at_prices_a_rule_by_which_more_bushings_grab_is_not_advised_for_its_cost() {
    let mut season = rules(-1.0, 80);
    season.pairs[0].cost = Some(Difference { mean: 2700.0, error: 300.0, ..Difference::default() });
    (season.policies[0].grabbed, season.policies[1].grabbed) = (15.0, 4.0);
    assert_eq!(words::season::advised(&season), 1);
    let said: String = words::season::statement(&season).iter().map(words::text::Words::text).collect();
    assert!(said.contains("costs 2700 more (± 300)") && said.contains("4 bushings grab"), "{said}");
    season.policies[0].grabbed = 4.0;
    assert_eq!(words::season::advised(&season), 0);
}

#[test]
fn the_first_stop_is_dated_once_where_early_and_usual_days_are_the_same() {
    let mut season = shop::season();
    let said =
        |season: &Season| words::season::statement(season).iter().map(words::text::Words::text).collect::<String>();
    assert!(said(&season).contains("in one season of ten by 10\u{a0}April"));
    season.policies[0].first_stop.tenth.estimate = season.policies[0].first_stop.half.estimate;
    assert!(said(&season).contains("by its washer.") && !said(&season).contains("in one season of ten by"));
}

/// A season whose second rule needs so many parts more than the first, with so many oilings of each cart.
pub fn rules(parts: f64, oilings: u64) -> Season {
    let mut season = shop::season();
    let mut other = season.policies[0].clone();
    other.policy.oiling = Some(Oiling { drops: 4.0, on: ServiceDays::Every(1), before_opening: false });
    (other.oilings, other.oiled) = (oilings, oilings as f64);
    season.policies[1] = other;
    season.pairs[0].parts = Difference { mean: parts, error: 0.2, first_less: 0.1, other_less: 0.7 };
    for error in &mut season.map.errors {
        error.median = 0.0;
    }
    season
}

/// A season asked for by a rule that overdoses; the other needs as many parts, with as many oilings.
pub fn overdosed() -> Season {
    let mut season = rules(0.1, 8);
    season.policies[0].policy.oiling = Some(Oiling { drops: 20.0, on: ServiceDays::Weekday(0), before_opening: false });
    season
}

#[test]
fn of_equal_rules_that_with_fewer_drops_is_advised_and_its_sentence_says_why() {
    let season = overdosed();
    assert_eq!(words::season::advised(&season), 1);
    let said: String = words::season::statement(&season).iter().map(words::text::Words::text).collect();
    let why = "the first rule of the table, because that puts on more oil than a bushing lacks, some of it onto the lining: it takes 0.1\u{a0}parts more (± 0.2), with as many oilings of each cart.";
    assert!(said.contains(why) && !said.contains("serves better"), "{said}");
}

#[test]
fn a_rule_is_advised_with_the_drops_that_nearly_every_bushing_lacks() {
    let said = |lacked: f64, most: f64| {
        let mut season = shop::season();
        (season.policies[0].lacked, season.policies[0].lacked_most) = (lacked, most);
        let words = words::season::statement(&season);
        words.iter().map(words::text::Words::text).collect::<String>().replace('\u{a0}', " ")
    };
    // Four drops asked for.
    for (lacked, most, dose, rest) in [
        (
            1.2,
            2.6,
            ": up to 3 drops for each cart",
            Some("“4 drops on Mondays, renewed from 80 % of use” (3 drops are enough) puts"),
        ),
        (1.2, 2.04, ": up to 2 drops for each cart", Some("(2 drops are enough)")),
        (0.2, 0.7, ": 1 drop for each cart", Some("(1 drop is enough)")),
        (2.6, 3.4, ": up to 4 drops for each cart", None),
        (3.9, 6.0, ": up to 4 drops for each cart", None),
        (5.0, 8.0, ": up to 4 drops for each cart", None),
    ] {
        let told = said(lacked, most);
        assert!(told.contains(dose), "{lacked} {most}: {told}");
        assert_eq!(told.contains("than 19 of 20 bushings lack"), rest.is_some(), "{lacked} {most}: {told}");
        assert!(rest.is_none_or(|rest| told.contains(rest)), "{lacked} {most}: {told}");
        let refills = match (lacked > 4.0, most > 4.0, dose.contains("up to")) {
            (true, ..) => "The dose does not refill a bushing: on average a bushing lacks 5 drops",
            (_, true, _) => {
                "The dose refills most bushings: on average a bushing lacks 3.9 drops of a full one when it is oiled by this rule, but one in 20 more than 6."
            }
            (.., true) => "The dose refills 19 of 20 bushings: on average a bushing lacks",
            _ => "The dose refills 19 of 20 bushings: on average a bushing lacks 0.2 drops",
        };
        assert!(told.contains(refills), "{lacked} {most}: {told}");
    }
}

#[test]
fn oilings_are_weighed_against_the_parts_that_they_save() {
    // 3 carts, 72 oilings more of each: 216 for a part, or for twenty.
    assert_eq!(words::season::advised(&rules(-1.0, 80)), 0);
    assert_eq!(words::season::advised(&rules(-20.0, 80)), 1);
    // Half the oilings need as many parts within the error, and a part more for less than fifty oilings is too many.
    assert_eq!(words::season::advised(&rules(0.1, 4)), 1);
    assert_eq!(words::season::advised(&rules(1.0, 4)), 0);
    // A bushing that grabs its shaft is a danger, whatever the work.
    let mut dangerous = rules(-1.0, 80);
    dangerous.policies[1].grabbed = 0.0;
    assert_eq!(words::season::advised(&dangerous), 1);
}

#[test]
fn linings_worn_out_in_hundreds_of_hours_are_no_wrong_use_but_in_a_hundred_they_are() {
    let said = |lasts: f64| {
        let mut season = shop::season();
        (season.question.hours, season.question.days) = (6.0 * HOUR, 200);
        let need = season.policies[0].needs.iter_mut().find(|need| need.part == Part::Lining).expect("a lining");
        need.half = (1200.0 / lasts * season.question.carts as f64) as u64;
        words::season::statement(&season).into_iter().map(|said| said.text()).collect::<String>()
    };
    let wrong = "The use or the service is wrong";
    assert!(!said(300.0).contains(wrong) && said(100.0).contains(wrong), "{}\n{}", said(300.0), said(100.0));
}
