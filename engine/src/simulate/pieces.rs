//! Pieces of a block that recur: runs of equal segments are folded, level by level, into a tree, and a cut through the tree is
//! chosen that leaves the fewest segments to be simulated.

use crate::duty::{End, Segment, Service, Task};
use std::collections::{BTreeMap, HashMap};
use std::ops::Range;

/// Longest group, in entries of its level, whose repetition is sought: bounds the search.
const LONGEST: usize = 64;
/// Fewest times that a piece has to recur before it can be skipped.
const FEWEST: f64 = 12.0;
/// Simulations of a piece before it is skipped, and the share of the others that is simulated. Measured on seasons.
const FIRST: f64 = 10.0;
const SHARE: f64 = 0.1;
/// A cut further down has to save this factor, because what is inside a piece varies more.
const DEEPER: f64 = 1.7;
/// Work of a rest with the motor off, and of a service, over that of a ride's segment.
const REST: f64 = 0.3;
const SERVICE: f64 = 0.05;
/// Assumed duration of a segment without one, s.
const BRIEF: f64 = 15.0;

/// Some segments in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    /// indices of its segments
    pub segments: Range<usize>,
    /// the kind, if it recurs
    pub kind: Option<usize>,
}

/// Content of a segment by which it is compared.
#[derive(PartialEq, Eq, Hash)]
enum Mark {
    Ride(u8, u64, [u64; 3]),
    Service(String),
}

fn mark(segment: &Segment) -> Mark {
    let Segment::Ride(task, end) = segment else { return Mark::Service(format!("{segment:?}")) };
    let (of, value) = match task {
        Task::Idle => (0, 0),
        Task::FastIdle(speed) => (1, speed.to_bits()),
        Task::Throttle(opening) => (2, opening.to_bits()),
        Task::Hold(speed) => (3, speed.to_bits()),
        Task::Coast => (4, 0),
        Task::Brake(slowing) => (5, slowing.to_bits()),
        Task::Follow(trace) => {
            let bits = trace.points.iter().flat_map(|(time, speed)| [time.to_bits(), speed.to_bits()]);
            // FNV-1a over words.
            (6, bits.fold(0xcbf2_9ce4_8422_2325, |hash: u64, word| (hash ^ word).wrapping_mul(0x0100_0000_01b3)))
        }
        Task::Off => (7, 0),
    };
    let end = match *end {
        End::After(time) => [0, time.to_bits(), 0],
        End::Reached { speed, within } => [1, speed.to_bits(), within.to_bits()],
        End::Slowed { speed, within } => [2, speed.to_bits(), within.to_bits()],
        End::Still { within } => [3, within.to_bits(), 0],
    };
    Mark::Ride(of, value, end)
}

#[derive(Clone, PartialEq, Eq, Hash)]
enum Node {
    Segment,
    Group(Vec<usize>),
    Times(usize, usize),
}

/// What is known of a node, which stands after its parts.
struct Known {
    node: Node,
    /// number of segments
    segments: usize,
    /// number of segments that ride
    rides: usize,
    /// work of one simulation
    work: f64,
}

#[derive(Default)]
struct Tree {
    nodes: Vec<Known>,
    known: HashMap<Node, usize>,
}

impl Tree {
    fn add(&mut self, node: Node) -> usize {
        if let Some(known) = self.known.get(&node) {
            return *known;
        }
        let parts: &[usize] = match &node {
            Node::Segment => &[],
            Node::Group(parts) => parts,
            Node::Times(part, _) => std::slice::from_ref(part),
        };
        let times = if let Node::Times(_, times) = node { times } else { 1 };
        let mut made = Known { node: node.clone(), segments: 0, rides: 0, work: 0.0 };
        for part in parts {
            let part = &self.nodes[*part];
            made.segments += times * part.segments;
            made.rides += times * part.rides;
            made.work += times as f64 * part.work;
        }
        self.nodes.push(made);
        self.known.insert(node, self.nodes.len() - 1);
        self.nodes.len() - 1
    }

    /// Folds repetitions of groups of this length.
    fn fold(&mut self, row: &[usize], length: usize) -> Vec<usize> {
        let n = row.len();
        // Number of entries from each on that equal the one a length later.
        let mut equal = vec![0; n + 1];
        for k in (0..n.saturating_sub(length)).rev() {
            equal[k] = if row[k] == row[k + length] { equal[k + 1] + 1 } else { 0 };
        }
        let (mut folded, mut k) = (Vec::with_capacity(n), 0);
        while k < n {
            let times = equal[k] / length + 1;
            if times < 2 {
                folded.push(row[k]);
                k += 1;
                continue;
            }
            let part = if length == 1 { row[k] } else { self.add(Node::Group(row[k..k + length].to_vec())) };
            folded.push(self.add(Node::Times(part, times)));
            k += times * length;
        }
        folded
    }

    /// The root of a block's tree.
    fn of(&mut self, block: &[Segment]) -> usize {
        let mut marks: HashMap<Mark, usize> = HashMap::new();
        let mut row = Vec::with_capacity(block.len());
        for segment in block {
            let (rides, work) = match segment {
                Segment::Ride(Task::Off, _) => (0, REST),
                Segment::Ride(..) => (1, 1.0),
                Segment::Service(_) => (0, SERVICE),
            };
            row.push(*marks.entry(mark(segment)).or_insert_with(|| {
                self.nodes.push(Known { node: Node::Segment, segments: 1, rides, work });
                self.nodes.len() - 1
            }));
        }
        let mut length = 1;
        while length <= LONGEST && 2 * length <= row.len() {
            let folded = self.fold(&row, length);
            length = if folded.len() < row.len() { 1 } else { length + 1 };
            row = folded;
        }
        self.add(Node::Group(row))
    }

    fn parts(&self, node: usize) -> Vec<usize> {
        match &self.nodes[node].node {
            Node::Segment => vec![],
            Node::Group(parts) => parts.clone(),
            Node::Times(part, times) => vec![*part; *times],
        }
    }

    /// Whether each node is a piece, if the root is performed this many times.
    fn chosen(&self, root: usize, blocks: f64) -> Vec<bool> {
        let mut times = vec![0.0; self.nodes.len()];
        times[root] = blocks;
        for node in (0..self.nodes.len()).rev() {
            match &self.nodes[node].node {
                Node::Segment => {}
                Node::Group(parts) => parts.iter().for_each(|part| times[*part] += times[node]),
                Node::Times(part, many) => times[*part] += times[node] * *many as f64,
            }
        }
        let (mut work, mut chosen) = (vec![0.0_f64; self.nodes.len()], vec![false; self.nodes.len()]);
        for (node, known) in self.nodes.iter().enumerate() {
            let mut parts = self.parts(node);
            parts.sort_unstable();
            parts.dedup();
            let below: f64 = parts.iter().map(|part| work[*part]).sum();
            let below = if parts.is_empty() { times[node] * known.work } else { below };
            let whole = times[node].min(FIRST + SHARE * times[node]) * known.work;
            chosen[node] = times[node] >= FEWEST && known.rides >= 2 && whole <= DEEPER * below;
            work[node] = if chosen[node] { whole } else { below };
        }
        chosen
    }
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

/// Pieces of a block that is repeated for this time, s; the whole block as the only one if nothing in it recurs more often.
pub(super) fn pieces(block: &[Segment], time: f64) -> Vec<Piece> {
    let mut tree = Tree::default();
    let root = tree.of(block);
    let blocks = (time / length(block).max(1e-3)).ceil().max(1.0);
    let chosen = tree.chosen(root, blocks);
    let mut made: Vec<Piece> = vec![];
    let mut kinds: Vec<usize> = vec![];
    let (mut at, mut open) = (0, vec![root]);
    while let Some(node) = open.pop() {
        let kind = chosen[node].then(|| {
            let known = kinds.iter().position(|known| *known == node);
            known.unwrap_or_else(|| {
                kinds.push(node);
                kinds.len() - 1
            })
        });
        let parts = tree.parts(node);
        if kind.is_none() && !parts.is_empty() {
            open.extend(parts.into_iter().rev());
            continue;
        }
        let segments = at..at + tree.nodes[node].segments;
        at = segments.end;
        match made.last_mut() {
            Some(last) if kind.is_none() && last.kind.is_none() => last.segments.end = at,
            _ => made.push(Piece { segments, kind }),
        }
    }
    if kinds.is_empty() {
        vec![Piece { segments: 0..block.len(), kind: Some(0) }]
    } else {
        told_apart(block, &made, blocks)
    }
}

/// Tells recurring pieces apart by the services before them: the day after an oiling is another one than the day after a day. Those
/// that are rare then do not recur.
fn told_apart(block: &[Segment], made: &[Piece], blocks: f64) -> Vec<Piece> {
    let before = |k: usize| -> Vec<Mark> {
        let piece = &made[if k == 0 { made.len() - 1 } else { k - 1 }];
        let serves = |segment: &&Segment| matches!(segment, Segment::Service(service) if !matches!(service, Service::Adjust(..)));
        // What a piece that recurs leaves behind is in the state.
        let services = block[piece.segments.clone()].iter().filter(|_| piece.kind.is_none()).filter(serves);
        services.map(mark).collect()
    };
    let mut kinds: Vec<(usize, Vec<Mark>)> = vec![];
    let mut times: Vec<f64> = vec![];
    let mut found = vec![];
    for (k, piece) in made.iter().enumerate() {
        found.push(piece.kind.map(|kind| {
            let key = (kind, before(k));
            let known = kinds.iter().position(|known| *known == key).unwrap_or_else(|| {
                kinds.push(key);
                times.push(0.0);
                times.len() - 1
            });
            times[known] += blocks;
            known
        }));
    }
    let kept: Vec<usize> = (0..times.len()).filter(|kind| times[*kind] >= FEWEST).collect();
    let mut pieces: Vec<Piece> = vec![];
    for (piece, kind) in made.iter().zip(found) {
        let kind = kind.and_then(|kind| kept.iter().position(|kept| *kept == kind));
        match pieces.last_mut() {
            Some(last) if kind.is_none() && last.kind.is_none() => last.segments.end = piece.segments.end,
            _ => pieces.push(Piece { segments: piece.segments.clone(), kind }),
        }
    }
    pieces
}

/// Whether each recurring piece is the last of its kind before the block changes its settings.
pub(super) fn closing(block: &[Segment], pieces: &[Piece]) -> Vec<bool> {
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
        let made = pieces(&block, 200.0 * DAY);
        let days: Vec<&Piece> = made.iter().filter(|piece| piece.kind.is_some()).collect();
        assert_eq!(days.len(), 140);
        assert!(days.iter().all(|day| day.segments.len() == 12 * 9 + 1));
        assert!(days.iter().all(|day| day.kind == Some(0)));
        let closes = closing(&block, &made);
        assert_eq!(closes.iter().filter(|closes| **closes).count(), 7);
        // Every segment is in one piece, in order.
        let mut at = 0;
        for piece in &made {
            assert_eq!(piece.segments.start, at);
            at = piece.segments.end;
        }
        assert_eq!(at, block.len());
    }

    #[test]
    fn a_block_that_recurs_often_is_one_piece_and_four_weekends_with_oil_are_four() {
        let weekend = [vec![rest(6.0 * DAY)], hire(), vec![rest(0.9 * DAY)], hire()].concat();
        let one = pieces(&weekend, 3.0 * 365.0 * DAY);
        assert_eq!(one, [Piece { segments: 0..weekend.len(), kind: Some(0) }]);
        let oil = Segment::Service(Service::Oil { drops: 3.0, oil: crate::parts::Oil::default() });
        let four = [vec![weekend.clone(); 4].concat(), vec![oil]].concat();
        let kinds: Vec<Option<usize>> = pieces(&four, 3.0 * 365.0 * DAY).iter().map(|piece| piece.kind).collect();
        assert_eq!(kinds, [Some(0), Some(1), Some(1), Some(1), None]);
    }

    #[test]
    fn a_block_in_which_nothing_recurs_stays_whole() {
        let block: Vec<Segment> =
            (1..400).map(|k| Segment::Ride(Task::Idle, End::After(f64::from(k)))).chain([rest(1.0)]).collect();
        assert_eq!(pieces(&block, 1e5), [Piece { segments: 0..400, kind: Some(0) }]);
    }
}
