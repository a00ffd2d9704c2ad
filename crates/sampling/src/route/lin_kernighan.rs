use crate::random::Draw;

/// Nearest points kept for each point.
const N_NEIGHBOURS: usize = 10;
/// How many edges a chain may exchange.
const DEEPEST: usize = 6;
/// How many ways are tried at each depth of a chain.
const BREADTH: [usize; 3] = [5, 3, 1];
/// Longest of the three stretches a kick swaps.
const STRETCH: usize = 50;

/// When to stop.
///
/// A count of kicks gives the same tour on every machine; a deadline gives the best the time allows. The pure
/// crate has no clock: the deadline is a question the caller answers.
pub enum Budget<'a> {
    /// Stop after so many kicks.
    Kicks(u64),
    /// Go on while the answer is yes; asked every few dozen kicks.
    While(&'a mut dyn FnMut() -> bool),
}

impl std::fmt::Debug for Budget<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Kicks(n) => write!(f, "Kicks({n})"),
            Self::While(_) => f.write_str("While(..)"),
        }
    }
}

/// Cities at the ends of the edges a chain exchanged.
type Touched = [u32; 2 * DEEPEST + 2];

/// A round tour that is made shorter and shorter.
///
/// Local search by chains of edge exchanges (each a reversal of a stretch) and by moving short stretches
/// elsewhere, with lists of near neighbours; then kicks: two neighbouring stretches change places, the search mends
/// what the kick broke, and what is longer than before is undone. Lengths are whole numbers, so nothing drifts.
///
/// # References
/// Lin and Kernighan (1973), Operations Research 21: 498–516 (chains); Or (1976), thesis, Northwestern University (moving
/// stretches); Bentley (1992), ORSA Journal on Computing 4: 387–411 (neighbour lists, queue of points); Martin,
/// Otto, Felten (1991), Complex Systems 5: 299–326, and Applegate, Cook, Rohe (2003), INFORMS Journal on Computing 15:
/// 82–92 (kicks, local ones).
pub(crate) struct Search<'a> {
    n: usize,
    cost: &'a [i64],
    neighbours: Vec<u32>,
    n_neighbours: usize,
    tour: Vec<u32>,
    position: Vec<u32>,
    /// Reversals since the last tour worth keeping, to undo them.
    undo: Vec<(u32, u32)>,
    queue: std::collections::VecDeque<u32>,
    queued: Vec<bool>,
    length: i64,
}

impl<'a> Search<'a> {
    /// A search from a tour over a symmetric table of `n × n` costs.
    pub(crate) fn new(n: usize, cost: &'a [i64], tour: Vec<u32>) -> Self {
        let n_neighbours = N_NEIGHBOURS.min(n.saturating_sub(1));
        let mut neighbours = Vec::with_capacity(n * n_neighbours);
        let mut others: Vec<u32> = Vec::with_capacity(n);
        for i in 0..n {
            let row = &cost[i * n..(i + 1) * n];
            others.clear();
            others.extend((0..n as u32).filter(|&j| j as usize != i));
            let by_cost = |j: &u32| (row[*j as usize], *j);
            if others.len() > n_neighbours {
                others.select_nth_unstable_by_key(n_neighbours - 1, by_cost);
                others.truncate(n_neighbours);
            }
            others.sort_unstable_by_key(by_cost);
            neighbours.extend_from_slice(&others);
        }
        let mut position = vec![0; n];
        for (place, &city) in tour.iter().enumerate() {
            position[city as usize] = place as u32;
        }
        let length = (0..n).map(|k| cost[tour[k] as usize * n + tour[(k + 1) % n] as usize]).sum();
        Self {
            n,
            cost,
            neighbours,
            n_neighbours,
            queue: tour.iter().copied().collect(),
            queued: vec![true; n],
            tour,
            position,
            undo: Vec::new(),
            length,
        }
    }

    pub(crate) fn tour(&self) -> &[u32] {
        &self.tour
    }

    /// Searches until the budget is spent; returns the number of kicks.
    pub(crate) fn run(&mut self, seed: u64, budget: &mut Budget<'_>) -> u64 {
        self.mend();
        self.undo.clear();
        if self.n < 8 {
            return 0;
        }
        let mut draw = Draw::new(seed);
        let mut kicks = 0;
        loop {
            let go_on = match budget {
                Budget::Kicks(most) => kicks < *most,
                Budget::While(ask) => kicks % 32 != 0 || ask(),
            };
            if !go_on {
                return kicks;
            }
            kicks += 1;
            let before = self.length;
            self.kick(&mut draw);
            self.mend();
            if self.length > before {
                while let Some((from, to)) = self.undo.pop() {
                    self.reverse(from as usize, to as usize);
                }
                self.length = before;
            }
            self.undo.clear();
        }
    }

    fn cost(&self, a: u32, b: u32) -> i64 {
        self.cost[a as usize * self.n + b as usize]
    }

    fn next(&self, city: u32) -> u32 {
        let place = self.position[city as usize] as usize + 1;
        self.tour[if place == self.n { 0 } else { place }]
    }

    fn previous(&self, city: u32) -> u32 {
        let place = self.position[city as usize] as usize;
        self.tour[if place == 0 { self.n - 1 } else { place - 1 }]
    }

    fn near(&self, city: u32, k: usize) -> u32 {
        self.neighbours[city as usize * self.n_neighbours + k]
    }

    /// Reverses the stretch from one place on to another, or the rest of the tour when that is shorter (the same
    /// round tour, run the other way). Doing it twice changes nothing.
    fn reverse(&mut self, from: usize, to: usize) {
        let n = self.n;
        let inside = if to >= from { to - from + 1 } else { to + n - from + 1 };
        let (mut a, mut b, length) = if 2 * inside <= n {
            (from, to, inside)
        } else {
            (
                if to + 1 == n { 0 } else { to + 1 },
                if from == 0 { n - 1 } else { from - 1 },
                n - inside,
            )
        };
        for _ in 0..length / 2 {
            let (x, y) = (self.tour[a], self.tour[b]);
            self.tour[a] = y;
            self.position[y as usize] = a as u32;
            self.tour[b] = x;
            self.position[x as usize] = b as u32;
            a = if a + 1 == n { 0 } else { a + 1 };
            b = if b == 0 { n - 1 } else { b - 1 };
        }
    }

    /// Reverses the path from one city on to another and remembers it.
    fn flip(&mut self, from: u32, to: u32) {
        let (a, b) = (self.position[from as usize], self.position[to as usize]);
        self.reverse(a as usize, b as usize);
        self.undo.push((a, b));
    }

    fn take_back(&mut self, keep: usize) {
        while self.undo.len() > keep {
            if let Some((a, b)) = self.undo.pop() {
                self.reverse(a as usize, b as usize);
            }
        }
    }

    fn enqueue(&mut self, city: u32) {
        if !self.queued[city as usize] {
            self.queued[city as usize] = true;
            self.queue.push_back(city);
        }
    }

    /// Improves about every city in the queue until none helps.
    fn mend(&mut self) {
        while let Some(city) = self.queue.pop_front() {
            self.queued[city as usize] = false;
            if self.n >= 4 {
                while self.improve(city) {}
            }
        }
    }

    fn improve(&mut self, city: u32) -> bool {
        for towards_next in [true, false] {
            let other = if towards_next { self.next(city) } else { self.previous(city) };
            let start = self.undo.len();
            let mut touched: Touched = [0; 2 * DEEPEST + 2];
            touched[0] = city;
            touched[1] = other;
            let gain = self.chain(0, (city, other), self.cost(city, other), 0, &mut touched);
            if gain > 0 {
                self.length -= gain;
                let n_flips = self.undo.len() - start;
                for &end in &touched[..2 * n_flips + 2] {
                    self.enqueue(end);
                }
                return true;
            }
        }
        self.n > 4 && self.move_stretch(city)
    }

    /// Goes on with a chain that opened the tour between two cities, neighbours in the tour as it stands.
    /// `gain` counts their edge as removed. Returns what the tour gains when it is closed again, if that is more
    /// than `exceed`; else 0, and the tour is as before.
    fn chain(
        &mut self,
        depth: usize,
        (end, open): (u32, u32),
        gain: i64,
        exceed: i64,
        touched: &mut Touched,
    ) -> i64 {
        if depth == DEEPEST {
            return 0;
        }
        let (ways, n_ways) = self.ways(depth, (end, open), gain, exceed);
        for &(value, to, beyond) in &ways[..n_ways] {
            let start = self.undo.len();
            self.exchange((end, open), (beyond, to));
            touched[2 * depth + 2] = to;
            touched[2 * depth + 3] = beyond;
            let closed = value - self.cost(beyond, end);
            let deeper = self.chain(depth + 1, (end, beyond), value, exceed.max(closed), touched);
            if deeper > 0 {
                return deeper;
            }
            if closed > exceed {
                return closed;
            }
            self.take_back(start);
        }
        0
    }

    /// The most promising next exchanges of a chain, best first: a short edge in, a long one out.
    fn ways(
        &self,
        depth: usize,
        (end, open): (u32, u32),
        gain: i64,
        exceed: i64,
    ) -> ([(i64, u32, u32); 5], usize) {
        let breadth = BREADTH.get(depth).copied().unwrap_or(1);
        let forward = self.next(end) == open;
        let mut ways = [(i64::MIN, 0u32, 0u32); 5];
        let mut n_ways = 0;
        for k in 0..self.n_neighbours {
            let to = self.near(open, k);
            let left = gain - self.cost(open, to);
            if left <= exceed {
                break;
            }
            let beyond = if forward { self.previous(to) } else { self.next(to) };
            if to == end || beyond == open {
                continue;
            }
            let value = left + self.cost(beyond, to);
            let mut place = n_ways;
            while place > 0 && ways[place - 1].0 < value {
                if place < breadth {
                    ways[place] = ways[place - 1];
                }
                place -= 1;
            }
            if place < breadth {
                ways[place] = (value, to, beyond);
                n_ways = (n_ways + 1).min(breadth);
            }
        }
        (ways, n_ways)
    }

    /// Moves a stretch of up to three cities that begins or ends at `city` to between two others near it.
    fn move_stretch(&mut self, city: u32) -> bool {
        for forward in [true, false] {
            let mut last = city;
            for length in 1..=3 {
                if length > 1 {
                    last = if forward { self.next(last) } else { self.previous(last) };
                }
                // the stretch runs from `city` to `last`, `before` … `after` are the cities about it
                let (before, after) = if forward {
                    (self.previous(city), self.next(last))
                } else {
                    (self.next(city), self.previous(last))
                };
                if before == after || before == last || after == city {
                    break;
                }
                let freed =
                    self.cost(before, city) + self.cost(last, after) - self.cost(before, after);
                if freed <= 0 {
                    continue;
                }
                for k in 0..self.n_neighbours {
                    let near = self.near(city, k);
                    if self.cost(city, near) >= freed {
                        break;
                    }
                    if self.in_stretch(near, city, length, forward) {
                        continue;
                    }
                    for far in [self.next(near), self.previous(near)] {
                        if self.in_stretch(far, city, length, forward) {
                            continue;
                        }
                        let paid =
                            self.cost(near, city) + self.cost(last, far) - self.cost(near, far);
                        if paid < freed {
                            self.length -= freed - paid;
                            self.carry((city, last), (before, after), (near, far), forward);
                            for end in [city, last, before, after, near, far] {
                                self.enqueue(end);
                            }
                            return true;
                        }
                    }
                }
            }
        }
        false
    }

    fn in_stretch(&self, city: u32, first: u32, length: usize, forward: bool) -> bool {
        let (place, start) =
            (self.position[city as usize] as usize, self.position[first as usize] as usize);
        let offset = if forward { place + self.n - start } else { start + self.n - place };
        offset % self.n < length
    }

    /// Puts the stretch from `city` to `last` between `near`, next to `city`, and `far`: the edges of the tour
    /// are exchanged two or three times, each time leaving one round tour.
    fn carry(
        &mut self,
        (city, last): (u32, u32),
        (before, after): (u32, u32),
        (near, far): (u32, u32),
        forward: bool,
    ) {
        let near_comes_first = (self.next(near) == far) == forward;
        // seen in the direction before → city … last → after …, the target edge runs from `low` to `high`
        let (low, high) = if near_comes_first { (near, far) } else { (far, near) };
        // before, low … after, last … city, high
        self.exchange((before, city), (low, high));
        if low != after {
            // before, after … low, last … city, high
            self.exchange((before, low), (after, last));
        }
        if near_comes_first {
            self.exchange((low, last), (city, high));
        }
    }

    /// Replaces the edges a–b and c–d, both named in the direction of the tour or both against it, by a–c
    /// and b–d.
    fn exchange(&mut self, (a, b): (u32, u32), (c, _d): (u32, u32)) {
        if self.next(a) == b {
            self.flip(b, c);
        } else {
            self.flip(c, b);
        }
    }

    /// Lets two neighbouring stretches change places (the double bridge of Martin, Otto and Felten, kept local).
    fn kick(&mut self, draw: &mut Draw) {
        let n = self.n;
        let longest = STRETCH.min(n / 4);
        let start = draw.below(n);
        let (first, second) = (1 + draw.below(longest), 1 + draw.below(longest));
        let place = |offset: usize| (start + offset) % n;
        let city = |search: &Self, offset: usize| search.tour[place(offset)];
        // start | first stretch | second stretch | rest
        let [a, b, c, d, e, f] = [0, 1, first, first + 1, first + second, first + second + 1]
            .map(|offset| city(self, offset));
        let removed = self.cost(a, b) + self.cost(c, d) + self.cost(e, f);
        let added = self.cost(a, d) + self.cost(e, b) + self.cost(c, f);
        for (from, to) in [(1, first + second), (1, second), (second + 1, first + second)] {
            let (from, to) = (place(from), place(to));
            self.reverse(from, to);
            self.undo.push((from as u32, to as u32));
        }
        self.length += added - removed;
        for end in [a, b, c, d, e, f] {
            self.enqueue(end);
        }
    }
}
