//! Pieces of a block that recur, level by level: hires in a day, days in a season. A cut through the tree of the block is chosen that
//! leaves the fewest segments to be simulated; what recurs inside a simulated piece is cut again.

mod tree;

use crate::duty::{End, Segment, Service};
use std::collections::BTreeMap;
use std::ops::Range;
use tree::{Mark, Node, Tree, mark};

/// Fewest times that a piece has to recur before it can be skipped.
const FEWEST: f64 = 12.0;
/// Simulations of a piece before it is skipped, and the share of the others that is simulated. Measured on seasons.
const FIRST: f64 = 10.0;
const SHARE: f64 = 0.1;
/// A cut further down has to save this factor, because what is inside a piece varies more.
const DEEPER: f64 = 1.7;
/// Fewest times that a piece has to recur inside another: the first and the last of them are mostly simulated, so that fewer gain little
/// and make the pieces around them differ more from each other.
const INSIDE: usize = 8;
/// Assumed duration of a segment without one, s.
const BRIEF: f64 = 15.0;

/// Some segments in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    /// indices of its segments, from the start of its level on
    pub segments: Range<usize>,
    /// the kind, if it recurs
    pub kind: Option<usize>,
}

/// The pieces of the block, or of a piece.
#[derive(Debug)]
pub(super) struct Level {
    /// in order
    pub pieces: Vec<Piece>,
    /// number of those that recur
    pub recurring: usize,
    /// for each piece, whether it is the last of its kind here
    pub last: Vec<bool>,
    /// for each piece, whether settings change before the next of its kind
    pub closing: Vec<bool>,
}

/// All levels.
#[derive(Debug)]
pub(super) struct Levels {
    /// the block first
    pub levels: Vec<Level>,
    /// for each kind, the level of the pieces inside it
    pub inside: Vec<Option<usize>>,
}

/// A kind of piece. The day after an oiling is another one than the day after a day.
struct Kind {
    node: usize,
    /// services since the last recurring piece
    after: Vec<Mark>,
    /// index of its first segment in the block, where it first stands
    start: usize,
    /// how often it comes in all that is simulated at its level
    times: f64,
}

/// How often a piece is simulated that comes this often.
fn simulated(times: f64) -> f64 {
    times.min(FIRST + SHARE * times)
}

/// Whether each node is a piece, if the root is performed this many times; the root itself only if it is allowed to be one.
fn chosen(tree: &Tree, root: usize, blocks: f64, itself: bool) -> Vec<bool> {
    let mut times = vec![0.0; tree.nodes.len()];
    times[root] = blocks;
    for node in (0..tree.nodes.len()).rev() {
        match &tree.nodes[node].node {
            Node::Segment => {}
            Node::Group(parts) => parts.iter().for_each(|part| times[*part] += times[node]),
            Node::Times(part, many) => times[*part] += times[node] * *many as f64,
        }
    }
    let (mut work, mut chosen) = (vec![0.0_f64; tree.nodes.len()], vec![false; tree.nodes.len()]);
    for (node, known) in tree.nodes.iter().enumerate() {
        let mut parts = tree.parts(node);
        parts.sort_unstable();
        parts.dedup();
        let below: f64 = parts.iter().map(|part| work[*part]).sum();
        let below = if parts.is_empty() { times[node] * known.work } else { below };
        let whole = simulated(times[node]) * known.work;
        chosen[node] = (itself || node != root) && times[node] >= FEWEST && known.rides >= 2 && whole <= DEEPER * below;
        work[node] = if chosen[node] { whole } else { below };
    }
    chosen
}

/// Shortest likely duration of a block, s.
fn length(block: &[Segment]) -> f64 {
    let each = block.iter().map(|segment| match segment {
        Segment::Ride(_, End::After(time)) => *time,
        Segment::Ride(..) => BRIEF,
        Segment::Service(_) => 0.0,
    });
    each.sum()
}

impl Level {
    fn new(block: &[Segment], pieces: Vec<Piece>) -> Self {
        let last = |(k, piece): (usize, &Piece)| pieces[k + 1..].iter().all(|other| other.kind != piece.kind);
        Self {
            recurring: pieces.iter().filter(|piece| piece.kind.is_some()).count(),
            last: pieces.iter().enumerate().map(last).collect(),
            closing: closing(block, &pieces),
            pieces,
        }
    }

    /// Whether enough recurs for pieces to be foretold inside a simulated one.
    fn repeats(&self) -> bool {
        let often = |kind| self.pieces.iter().filter(|piece| piece.kind == kind).count() >= INSIDE;
        self.pieces.iter().any(|piece| piece.kind.is_some() && often(piece.kind))
    }
}

impl Levels {
    /// Levels of a block that is repeated for this time, s; the whole block is the only piece if nothing in it recurs more often. The
    /// author may have stated passes that repeat each other (`Tree::of`).
    pub fn of(block: &[Segment], stated: &[Range<usize>], time: f64) -> Self {
        let mut tree = Tree::default();
        let root = tree.of(block, stated);
        let blocks = (time / length(block).max(1e-3)).ceil().max(1.0);
        let mut kinds: Vec<Kind> = vec![];
        let mut pieces = cut(&tree, block, &chosen(&tree, root, blocks, true), (root, blocks), &mut kinds);
        if kinds.is_empty() {
            kinds.push(Kind { node: root, after: vec![], start: 0, times: blocks });
            pieces = vec![Piece { segments: 0..block.len(), kind: Some(0) }];
        }
        let mut all = Self { levels: vec![Level::new(block, pieces)], inside: vec![] };
        while let Some(kind) = kinds.get(all.inside.len()) {
            let (node, start, times) = (kind.node, kind.start, simulated(kind.times));
            let known = kinds.len();
            let within = &block[start..start + tree.nodes[node].segments];
            let pieces = cut(&tree, within, &chosen(&tree, node, times, false), (node, times), &mut kinds);
            let level = Level::new(within, pieces);
            if level.repeats() {
                kinds[known..].iter_mut().for_each(|kind| kind.start += start);
                all.levels.push(level);
                all.inside.push(Some(all.levels.len() - 1));
            } else {
                kinds.truncate(known);
                all.inside.push(None);
            }
        }
        all
    }
}

/// Cuts segments into the chosen nodes below a node that is performed this often, with kinds that are told apart by the services before
/// them. Those that are rare do not recur.
fn cut(
    tree: &Tree,
    block: &[Segment],
    chosen: &[bool],
    (root, often): (usize, f64),
    kinds: &mut Vec<Kind>,
) -> Vec<Piece> {
    let mut made: Vec<(Range<usize>, Option<usize>)> = vec![];
    let (mut at, mut open) = (0, vec![root]);
    while let Some(node) = open.pop() {
        let parts = tree.parts(node);
        if !chosen[node] && !parts.is_empty() {
            open.extend(parts.into_iter().rev());
            continue;
        }
        let segments = at..at + tree.nodes[node].segments;
        at = segments.end;
        made.push((segments, chosen[node].then_some(node)));
    }
    let known = kinds.len();
    let serves =
        |segment: &&Segment| matches!(segment, Segment::Service(service) if !matches!(service, Service::Adjust(..)));
    let mut found = vec![];
    let mut after: Vec<Mark> = vec![];
    // The second pass begins after what the first leaves; what a piece that recurs leaves behind is in the state.
    for pass in 0..2 {
        for (segments, node) in &made {
            let Some(node) = *node else {
                after.extend(block[segments.clone()].iter().filter(serves).map(mark));
                continue;
            };
            let after = std::mem::take(&mut after);
            if pass == 0 {
                continue;
            }
            let alike = kinds.iter().position(|kind| kind.node == node && kind.after == after);
            found.push(alike.unwrap_or(kinds.len()));
            match alike {
                Some(kind) => kinds[kind].times += often,
                None => kinds.push(Kind { node, after, start: segments.start, times: often }),
            }
        }
    }
    let kept: Vec<bool> = kinds.iter().enumerate().map(|(k, kind)| k < known || kind.times >= FEWEST).collect();
    let renamed = |kind: usize| kept[kind].then(|| kept[..kind].iter().filter(|kept| **kept).count());
    let (mut pieces, mut found) = (Vec::<Piece>::new(), found.into_iter());
    for (segments, node) in made {
        let kind = node.and_then(|_| found.next()).and_then(renamed);
        match pieces.last_mut() {
            Some(last) if kind.is_none() && last.kind.is_none() => last.segments.end = segments.end,
            _ => pieces.push(Piece { segments, kind }),
        }
    }
    let mut kept = kept.into_iter();
    kinds.retain(|_| kept.next().unwrap_or(true));
    pieces
}

/// Whether each recurring piece is the last of its kind before the block changes its settings.
fn closing(block: &[Segment], pieces: &[Piece]) -> Vec<bool> {
    let mut now: BTreeMap<&str, u64> = BTreeMap::new();
    let mut settings = vec![];
    // The second pass begins with what the first has set.
    for pass in 0..2 {
        for piece in pieces {
            if pass == 1 {
                settings.push(now.clone());
            }
            for segment in &block[piece.segments.clone()] {
                if let Segment::Service(Service::Adjust(setting, value)) = segment {
                    now.insert(setting.path, value.to_bits());
                }
            }
        }
    }
    let next = |k: usize| {
        let others = (k + 1..pieces.len()).chain(0..=k);
        others.into_iter().find(|other| pieces[*other].kind == pieces[k].kind).unwrap_or(k)
    };
    (0..pieces.len()).map(|k| pieces[k].kind.is_some() && settings[k] != settings[next(k)]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::duty::Task;

    const DAY: f64 = 86400.0;

    fn hire() -> Vec<Segment> {
        let ride = |task, end| Segment::Ride(task, end);
        let lap = [
            ride(Task::Idle, End::After(20.0)),
            ride(Task::Throttle(1.0), End::Reached { speed: 6.0, within: 60.0 }),
            ride(Task::Hold(6.0), End::After(240.0)),
            ride(Task::Brake(2.0), End::Still { within: 60.0 }),
        ];
        [&lap[..], &lap[..], &[ride(Task::Off, End::After(840.0))]].concat()
    }

    fn rest(time: f64) -> Segment {
        Segment::Ride(Task::Off, End::After(time))
    }

    fn air(temperature: f64) -> Segment {
        Segment::Service(Service::Adjust(&crate::parts::settings::surroundings::ambient, temperature))
    }

    /// Weeks of five days of twelve hires, with the temperature of each month.
    fn season(weeks: usize) -> Vec<Segment> {
        let day = [vec![hire(); 12].concat(), vec![rest(0.75 * DAY)]].concat();
        let week = |k: usize| [vec![air(283.0 + (k / 4) as f64)], vec![day.clone(); 5].concat(), vec![rest(2.0 * DAY)]];
        (0..weeks).flat_map(|k| week(k).concat()).collect()
    }

    #[test]
    fn a_season_with_weather_is_cut_into_its_days() {
        let block = season(28);
        let all = Levels::of(&block, &[], 200.0 * DAY);
        let made = &all.levels[0].pieces;
        let days: Vec<&Piece> = made.iter().filter(|piece| piece.kind.is_some()).collect();
        assert_eq!(days.len(), 140);
        assert!(days.iter().all(|day| day.segments.len() == 12 * 9 + 1));
        assert!(days.iter().all(|day| day.kind == Some(0)));
        assert_eq!(all.levels[0].closing.iter().filter(|closes| **closes).count(), 7);
        // Every segment is in one piece, in order.
        let mut at = 0;
        for piece in made {
            assert_eq!(piece.segments.start, at);
            at = piece.segments.end;
        }
        assert_eq!(at, block.len());
        // A simulated day is cut into its hires.
        let inside: Vec<Option<usize>> = all.levels[1].pieces.iter().map(|piece| piece.kind).collect();
        assert_eq!((all.inside, inside), (vec![Some(1), None], [vec![Some(1); 12], vec![None]].concat()));
    }

    #[test]
    fn a_block_that_recurs_often_is_one_piece_and_four_weekends_with_oil_are_four() {
        let weekend = [vec![rest(6.0 * DAY)], hire(), vec![rest(0.9 * DAY)], hire()].concat();
        let one = Levels::of(&weekend, &[], 3.0 * 365.0 * DAY);
        assert_eq!(one.levels[0].pieces, [Piece { segments: 0..weekend.len(), kind: Some(0) }]);
        let oil = Segment::Service(Service::Oil { drops: 3.0, oil: crate::parts::Oil::default() });
        let four = [vec![weekend.clone(); 4].concat(), vec![oil]].concat();
        let kinds: Vec<Option<usize>> =
            Levels::of(&four, &[], 3.0 * 365.0 * DAY).levels[0].pieces.iter().map(|piece| piece.kind).collect();
        assert_eq!(kinds, [Some(0), Some(1), Some(1), Some(1), None]);
    }

    #[test]
    fn passes_that_the_author_states_are_found_however_long_they_are_and_change_nothing_else() {
        // Seventy entries that all differ: more than is sought.
        let tour: Vec<Segment> =
            (1..=70).map(|k| Segment::Ride(Task::Hold(f64::from(k) / 10.0), End::After(60.0))).collect();
        let day = [vec![tour.clone(); 10].concat(), vec![rest(0.5 * DAY)]].concat();
        let block = vec![day.clone(); 140].concat();
        let passes = |k: usize| {
            let (start, length) = (k * day.len(), tour.len());
            let tours = (0..10).map(move |n| start + n * length..start + (n + 1) * length);
            std::iter::once(start..start + day.len()).chain(tours)
        };
        let stated: Vec<Range<usize>> = (0..140).flat_map(passes).collect();
        let kinds = |levels: &Levels| levels.levels[0].pieces.iter().map(|piece| piece.kind).collect::<Vec<_>>();
        assert_eq!(kinds(&Levels::of(&block, &[], 100.0 * DAY)), [Some(0)]);
        let found = Levels::of(&block, &stated, 100.0 * DAY);
        assert_eq!(kinds(&found), [Some(0); 140]);
        assert_eq!((found.levels[1].recurring, found.inside), (10, vec![Some(1), None]));
        // What is found anyway is found alike.
        let season = season(4);
        let weeks: Vec<Range<usize>> = (0..4).map(|k| k * season.len() / 4..(k + 1) * season.len() / 4).collect();
        let [with, without] = [&weeks[..], &[]].map(|stated| Levels::of(&season, stated, 200.0 * DAY));
        assert_eq!((with.levels[0].pieces.len(), with.inside), (without.levels[0].pieces.len(), without.inside));
    }

    #[test]
    fn a_block_in_which_nothing_recurs_stays_whole() {
        let block: Vec<Segment> =
            (1..400).map(|k| Segment::Ride(Task::Idle, End::After(f64::from(k)))).chain([rest(1.0)]).collect();
        assert_eq!(Levels::of(&block, &[], 1e5).levels[0].pieces, [Piece { segments: 0..400, kind: Some(0) }]);
    }
}
