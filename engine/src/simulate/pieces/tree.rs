//! Runs of equal segments, folded level by level into a tree.

use crate::duty::{End, Segment, Task};
use std::collections::HashMap;
use std::ops::Range;

/// Longest group, in entries of its level, whose repetition is sought: bounds the search.
const LONGEST: usize = 64;
/// Work of a rest with the motor off, and of a service, over that of a ride's segment.
const REST: f64 = 0.3;
const SERVICE: f64 = 0.05;

/// Content of a segment by which it is compared.
#[derive(PartialEq, Eq, Hash)]
pub(super) enum Mark {
    Ride(u8, u64, [u64; 3]),
    Service(String),
}

pub(super) fn mark(segment: &Segment) -> Mark {
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
pub(super) enum Node {
    Segment,
    Group(Vec<usize>),
    Times(usize, usize),
}

/// What is known of a node, which stands after its parts.
pub(super) struct Known {
    pub node: Node,
    /// number of segments
    pub segments: usize,
    /// number of segments that ride
    pub rides: usize,
    /// work of one simulation
    pub work: f64,
}

#[derive(Default)]
pub(super) struct Tree {
    pub nodes: Vec<Known>,
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

    /// Folds repetitions of groups of any length.
    fn folded(&mut self, mut row: Vec<usize>) -> Vec<usize> {
        let mut length = 1;
        while length <= LONGEST && 2 * length <= row.len() {
            let folded = self.fold(&row, length);
            length = if folded.len() < row.len() { 1 } else { length + 1 };
            row = folded;
        }
        row
    }

    /// The row of these segments; each stated pass is one entry. Stated passes that were used up are taken off.
    fn row(
        &mut self,
        marks: &mut HashMap<Mark, usize>,
        block: &[Segment],
        range: &Range<usize>,
        stated: &mut &[Range<usize>],
    ) -> Vec<usize> {
        let (mut row, mut at) = (vec![], range.start);
        while at < range.end {
            if let Some((pass, rest)) =
                stated.split_first().filter(|(pass, _)| pass.start == at && pass.end <= range.end)
            {
                *stated = rest;
                let inner = self.row(marks, block, pass, stated);
                let inner = self.folded(inner);
                row.push(if let [one] = inner[..] { one } else { self.add(Node::Group(inner)) });
                at = pass.end;
                continue;
            }
            let segment = &block[at];
            let (rides, work) = match segment {
                Segment::Ride(Task::Off, _) => (0, REST),
                Segment::Ride(..) => (1, 1.0),
                Segment::Service(_) => (0, SERVICE),
            };
            row.push(*marks.entry(mark(segment)).or_insert_with(|| {
                self.nodes.push(Known { node: Node::Segment, segments: 1, rides, work });
                self.nodes.len() - 1
            }));
            at += 1;
        }
        row
    }

    /// The root of a block's tree. The author has stated passes that repeat each other, some inside others; an outer one comes
    /// before those inside it.
    pub fn of(&mut self, block: &[Segment], stated: &[Range<usize>]) -> usize {
        let mut stated = stated;
        let row = self.row(&mut HashMap::new(), block, &(0..block.len()), &mut stated);
        let row = self.folded(row);
        self.add(Node::Group(row))
    }

    /// The parts of a node, in order.
    pub fn parts(&self, node: usize) -> Vec<usize> {
        match &self.nodes[node].node {
            Node::Segment => vec![],
            Node::Group(parts) => parts.clone(),
            Node::Times(part, times) => vec![*part; *times],
        }
    }
}
