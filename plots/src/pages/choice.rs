//! The page of the choice of a spring.

use crate::figures::Drawn;
use crate::page::picture::pictures;
use crate::page::{Block, Cell, Group, Head, Page, Reach, Section, Table};
use crate::pages::question::{assumed, ending, parted};
use crate::words::number::three;
use crate::words::text::{Words, the};
use crate::words::{self, cautions, granted, say};
use slipsoak_engine::spring_choice::{Choice, Found, Judged, Verdict};
use slipsoak_engine::units::{HOUR, KM_H, RPM};

impl Page {
    /// The page of the answer on which spring to fit.
    pub(crate) fn of_choice(choice: &Choice, figures: Drawn) -> Self {
        let (answer, why) = parted(words::choice::statement(choice));
        let [lasting, starting] = springs(choice);
        let mut sections = vec![
            pictures(figures),
            why,
            Section::new("The springs", vec![lasting]),
            Section::new("Starting and locking", vec![starting]).only(Reach::Details).folded(),
            Section::new("Why each spring fits or not", reasons(choice)).folded(),
            assumed(granted::clauses(&choice.assumed)),
        ];
        sections.extend(ending(&choice.head, &choice.settings, &cautions::of_choice(choice)));
        Self {
            question: format!("Which spring for {}?", the(&choice.machine)),
            given: format!(
                "Idle {:.0} ± {:.0} rpm; use: {}; {}",
                choice.idle / RPM,
                choice.wander / RPM,
                choice.usage,
                words::choice::slopes(choice)
            ),
            origin: format!("computed by {}", choice.head.program),
            answer,
            sections,
            ..Self::default()
        }
    }
}

/// All reasons for the recommended spring and for the trade's; for the others the reasons against, or else their
/// warnings.
fn reasons(choice: &Choice) -> Vec<Block> {
    let named = |spring: &Judged| {
        Words::default().strong(&spring.name).plain(format!(" {}:", words::verdict::verdict(spring.verdict)))
    };
    let (in_full, others): (Vec<&Judged>, Vec<&Judged>) =
        choice.springs.iter().partition(|spring| words::choice::in_full(choice, spring));
    let whole = |spring: &&Judged| {
        // The answer says once what is wrong with the oil.
        let own = spring.reasons.iter().filter(|reason| !reason.of_any_spring());
        let all = own.map(|reason| words::reason::reason(reason).sentence()).collect();
        let reach = if choice.best.as_ref() == Some(&spring.name) { Reach::Everywhere } else { Reach::Details };
        [Block::Words(named(spring)), Block::List(all)].map(|block| block.only(reach))
    };
    let list = |some: &[&Judged], unfit: bool| {
        let some = some.iter().filter(|spring| (spring.verdict == Verdict::Unfit) == unfit);
        Block::List(some.map(|s| named(s).plain(" ").and(words::verdict::why(s)).plain(".")).collect())
    };
    // Without details the trade's spring has no list of its own, and its reason stands among the others.
    let passed_over: Vec<&Judged> = choice.springs.iter().filter(|s| choice.best.as_ref() != Some(&s.name)).collect();
    let others = [
        list(&others, false).only(Reach::Details),
        list(&others, true).only(Reach::Details),
        list(&passed_over, true).only(Reach::Brief),
    ];
    in_full.iter().flat_map(whole).chain(others).collect()
}

fn springs(choice: &Choice) -> [Block; 2] {
    let all = &choice.springs;
    let numbers = |digits, of: &dyn Fn(&Found) -> Option<f64>| {
        Cell::numbers(all.iter().map(|s| s.found.as_ref().and_then(of).unwrap_or(f64::NAN)), digits)
    };
    let hot = |of: fn(&Found) -> f64| -> Vec<Cell> {
        all.iter().map(|s| s.found.as_ref().map_or(Cell::Nothing, |f| Cell::Temperature(of(f)))).collect()
    };
    let lives = |s: &Judged| s.found.as_ref().and_then(|f| f.life).map(|l| l / HOUR);
    let longest = all.iter().filter_map(lives).fold(1e-9, f64::max);
    let bar = |s: &Judged| lives(s).map_or(Cell::Nothing, |h| Cell::Bar(say::time(h * HOUR), h / longest));
    let ended = |s: &Judged| s.found.as_ref().and_then(|f| f.ended_by).map_or(Cell::Nothing, Cell::from);
    let named = || vec![(Head::words("spring"), all.iter().map(|s| s.name.as_str().into()).collect())];
    let table = |caption: &str, columns: Vec<(Head, Vec<Cell>)>| {
        let Table { heads, groups, .. } = Table::of_columns("", columns);
        let mut rows = groups.into_iter().flat_map(|group| group.rows);
        let group = |same: &[Judged]| Group {
            name: words::verdict::verdict(same[0].verdict).to_owned(),
            rows: rows.by_ref().take(same.len()).collect(),
        };
        let groups = all.chunk_by(|a, b| a.verdict == b.verdict).map(group).collect();
        Table::grouped(caption, heads, groups)
    };
    let (mut lasting, mut starting) = (named(), named());
    lasting.extend([
        (Head::of("margin", "rpm"), Cell::numbers(all.iter().map(|s| s.margin().map_or(f64::NAN, |m| m / RPM)), 3)),
        (Head::temperature("lining, peak"), hot(|f| f.peaks.lining)),
        (Head::temperature("drum, peak").spare(12), hot(|f| f.peaks.drum)),
        (Head::temperature("bushing, peak").spare(11), hot(|f| f.peaks.bushing)),
        (Head::of("life, running", ""), all.iter().map(bar).collect()),
        (Head::words("worn out first").spare(1), all.iter().map(ended).collect()),
    ]);
    starting.extend([
        (Head::of("locks up, full throttle", "km/h"), numbers(3, &|f| f.balance.map(|b| b.vehicle / KM_H))),
        (Head::of("lowest steady speed without slip", "km/h"), numbers(3, &|f| Some(f.lock_speed / KM_H))),
        (Head::of("launch", "s"), numbers(2, &|f| f.launch.time)),
        (Head::of("slip energy", "kJ"), numbers(3, &|f| Some(f.launch.heat / 1e3))),
        (Head::of("steepest launch, warm", "%"), numbers(3, &|f| f.bears.map(|s| 100.0 * s))),
    ]);
    if let Some(speed) = choice.crawl {
        let name = format!("slip power, held at {} km/h", three(speed / KM_H));
        starting.push((Head::of(&name, "W"), numbers(3, &|f| f.crawl.map(|c| c.power))));
    }
    let peaks = format!(
        "Margin: engagement, hot and relaxed, over the highest idle; below zero it drags. Where the springs get hotter than their relaxation is known to, the true margin is lower than computed; it is given only where it is below zero. Peaks: {} of stop-and-go on {} from cold. Life: running time until the first part is worn out, oil apart, on {} wear constants.",
        say::time(choice.simulated),
        words::choice::ground(choice),
        words::learned::constants(&choice.learned)
    );
    let start = "Launch and slip energy: once from cold at full throttle on the slope. Steepest launch: warm from the use, locked up within half a minute, with the clutch not burning and its lining within its limit.";
    let caption = "Every spring of the stock: those that fit and those with warnings by their lives, then the others by their speeds";
    [
        Block::Table(table(caption, lasting).note(peaks)),
        Block::Table(table("How each starts and locks", starting).note(start)),
    ]
}
