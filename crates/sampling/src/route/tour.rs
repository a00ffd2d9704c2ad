use super::lin_kernighan::{Budget, Search};
use super::{Matrix, RouteError};
use units::Metres;

/// Where a boat ends its way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Finish {
    /// Back where it started.
    #[default]
    AtStart,
    /// At another point of the list, such as a second launch.
    At(usize),
    /// At the last site, wherever that is.
    Anywhere,
}

/// What the order of the points has to obey. Points are named by their place in the matrix.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TourRules {
    /// Where the way starts: the launch.
    pub start: usize,
    /// Where it ends.
    pub finish: Finish,
    /// A site to visit before all others.
    pub first: Option<usize>,
    /// A site to visit after all others.
    pub last: Option<usize>,
    /// Rank of each point, lower ranks are visited before higher ones; empty when all are alike. The ranks of
    /// start and end are not looked at. See [`ranks`].
    pub ranks: Vec<u32>,
    /// Seed of the search, kept with the result.
    pub seed: u64,
}

/// An order of the points.
#[derive(Debug, Clone, PartialEq)]
pub struct Tour {
    /// The points in order, the start first, the end last when it is another point. A round tour does not repeat
    /// its start.
    pub order: Vec<usize>,
    /// Length of the whole way, back to the start where it ends there.
    pub length: Metres,
    /// Kicks the search had time for.
    pub kicks: u64,
    /// Seed it was given.
    pub seed: u64,
}

/// Ranks from two wishes: from the least infested sites to the most (so that a boat carries no fragments to clean
/// places: `common practice` of boat hygiene), and within each level the priority sites early.
///
/// Where both apply hygiene comes first: a priority site in a heavily infested part waits for the clean parts.
/// # Errors
/// [`RouteError::WrongLength`] when the lists differ in length.
pub fn ranks(infestation: &[u8], priority: &[bool]) -> Result<Vec<u32>, RouteError> {
    if infestation.len() != priority.len() {
        return Err(RouteError::WrongLength { expected: infestation.len(), found: priority.len() });
    }
    Ok(infestation
        .iter()
        .zip(priority)
        .map(|(&level, &early)| 2 * u32::from(level) + u32::from(!early))
        .collect())
}

/// A short way through all points of a matrix: the travelling salesman's problem, solved to near the optimum.
///
/// # Formula
/// Minimise the sum of the legs. Rules become costs: start and end are held together by an edge of large
/// negative cost, a leg between ranks `r` and `s` costs `M·|r − s|` more, with `M` over the length of the first tour found;
/// that sum is least, `M` times the span of ranks, exactly when the ranks never fall.
/// # Errors
/// [`RouteError::NoSites`], [`RouteError::NoSuchPoint`], [`RouteError::TwoPlaces`], [`RouteError::WrongLength`];
/// [`RouteError::CutOff`] when a point cannot be reached.
/// # References
/// As named at the search: Lin and Kernighan (1973), Or (1976), Martin, Otto, Felten (1991), Applegate, Cook, Rohe (2003).
pub fn shortest_tour(
    matrix: &Matrix,
    rules: &TourRules,
    mut budget: Budget<'_>,
) -> Result<Tour, RouteError> {
    let problem = Problem::new(matrix, rules)?;
    let first = problem.first_tour();
    let cost = problem.costs(&first);
    let mut search = Search::new(problem.n_nodes, &cost, first);
    let kicks = search.run(rules.seed, &mut budget);
    let order = problem.order(search.tour());
    let mut closed = order.clone();
    if rules.finish == Finish::AtStart {
        closed.push(rules.start);
    }
    let length = matrix.length_of(&closed).ok_or_else(|| problem.cut_off())?;
    Ok(Tour { order, length, kicks, seed: rules.seed })
}

/// The rules in the form the search takes: a round tour of nodes, each a point of the matrix.
struct Problem<'a> {
    matrix: &'a Matrix,
    start: usize,
    n_nodes: usize,
    /// The node the way ends at: a point of its own, a copy of the start, or nowhere. None for a round tour
    /// without ranks, which needs no end.
    end: Option<End>,
    rank: Vec<u32>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    Point(usize),
    CopyOfStart,
    Nowhere,
}

impl<'a> Problem<'a> {
    fn new(matrix: &'a Matrix, rules: &TourRules) -> Result<Self, RouteError> {
        let n = matrix.len();
        let named = [Some(rules.start), rules.first, rules.last];
        let end_point = match rules.finish {
            Finish::At(point) if point != rules.start => Some(point),
            _ => None,
        };
        for index in named.into_iter().chain([end_point]).flatten() {
            if index >= n {
                return Err(RouteError::NoSuchPoint { index, n_points: n });
            }
        }
        let n_ends = 1 + usize::from(end_point.is_some());
        if n <= n_ends {
            return Err(RouteError::NoSites);
        }
        for site in [rules.first, rules.last].into_iter().flatten() {
            if site == rules.start
                || Some(site) == end_point
                || (rules.first == rules.last && n > n_ends + 1)
            {
                return Err(RouteError::TwoPlaces { index: site });
            }
        }
        if !rules.ranks.is_empty() && rules.ranks.len() != n {
            return Err(RouteError::WrongLength { expected: n, found: rules.ranks.len() });
        }
        let points = matrix.cut_off(rules.start);
        if !points.is_empty() {
            return Err(RouteError::CutOff { n_cut_off: points.len(), points });
        }
        let mut rank = dense_ranks(rules, n, end_point);
        let ranked = rank.iter().any(|&r| r > 0);
        let end = match (rules.finish, end_point) {
            (_, Some(point)) => Some(End::Point(point)),
            (Finish::Anywhere, None) => Some(End::Nowhere),
            (_, None) if ranked => Some(End::CopyOfStart),
            (_, None) => None,
        };
        let highest = rank.iter().copied().max().unwrap_or(0);
        let own_node = matches!(end, Some(End::CopyOfStart | End::Nowhere));
        if own_node {
            rank.push(highest);
        }
        if let Some(point) = end_point {
            rank[point] = highest;
        }
        Ok(Self { matrix, start: rules.start, n_nodes: n + usize::from(own_node), end, rank })
    }

    fn end_node(&self) -> Option<usize> {
        match self.end? {
            End::Point(point) => Some(point),
            End::CopyOfStart | End::Nowhere => Some(self.n_nodes - 1),
        }
    }

    /// Metres between two nodes.
    fn metres(&self, a: usize, b: usize) -> f64 {
        let n = self.matrix.len();
        let point = |node: usize| if node == n { self.start } else { node };
        if self.end == Some(End::Nowhere) && a.max(b) == n {
            return 0.0;
        }
        self.matrix.metres(point(a), point(b))
    }

    /// From the start always to the nearest of the lowest rank left; the end last.
    fn first_tour(&self) -> Vec<u32> {
        let end = self.end_node();
        let mut left: Vec<usize> =
            (0..self.n_nodes).filter(|&node| node != self.start && Some(node) != end).collect();
        let mut tour = vec![self.start as u32];
        let mut here = self.start;
        while !left.is_empty() {
            let lowest = left.iter().map(|&node| self.rank[node]).min().unwrap_or(0);
            let nearest = (0..left.len())
                .filter(|&k| self.rank[left[k]] == lowest)
                .min_by(|&a, &b| self.metres(here, left[a]).total_cmp(&self.metres(here, left[b])))
                .unwrap_or(0);
            here = left.remove(nearest);
            tour.push(here as u32);
        }
        tour.extend(end.map(|node| node as u32));
        tour
    }

    /// Whole-number costs: a tenth of a millimetre, or coarser on a giant lake.
    fn costs(&self, first: &[u32]) -> Vec<i64> {
        let n = self.n_nodes;
        let longest = (0..n)
            .flat_map(|a| (0..a).map(move |b| (a, b)))
            .map(|(a, b)| self.metres(a, b))
            .fold(0.0, f64::max);
        let scale = if longest > 0.0 { (1e10 / longest).min(1e4) } else { 1.0 };
        let whole = |a: usize, b: usize| (self.metres(a, b) * scale).round() as i64;
        let total: i64 =
            (0..n).map(|k| whole(first[k] as usize, first[(k + 1) % n] as usize)).sum();
        let step = total + 1;
        let highest = i64::from(self.rank.iter().copied().max().unwrap_or(0));
        let mut cost = vec![0; n * n];
        for a in 0..n {
            for b in 0..a {
                let apart = i64::from(self.rank[a].abs_diff(self.rank[b]));
                let value = whole(a, b) + step * apart;
                cost[a * n + b] = value;
                cost[b * n + a] = value;
            }
        }
        if let Some(end) = self.end_node() {
            let together = -step * (2 * highest + 4);
            cost[self.start * n + end] = together;
            cost[end * n + self.start] = together;
        }
        cost
    }

    /// The tour cut at the start, run so that the end comes last (a round tour: the nearer end of its first and
    /// last sites first, so that equal tours read alike).
    fn order(&self, tour: &[u32]) -> Vec<usize> {
        let n = tour.len();
        let at = tour.iter().position(|&node| node as usize == self.start).unwrap_or(0);
        let mut order: Vec<usize> = (0..n).map(|k| tour[(at + k) % n] as usize).collect();
        let turn = match self.end_node() {
            Some(end) => n > 2 && order[1] == end,
            None => n > 2 && order[n - 1] < order[1],
        };
        if turn {
            order[1..].reverse();
        }
        order.retain(|&node| node < self.matrix.len());
        order
    }

    fn cut_off(&self) -> RouteError {
        let points = self.matrix.cut_off(self.start);
        RouteError::CutOff { n_cut_off: points.len(), points }
    }
}

/// Ranks counted 0, 1, 2 …, with the first and the last site in ranks of their own; start and end take part in none.
pub(crate) fn dense_ranks(rules: &TourRules, n: usize, end: Option<usize>) -> Vec<u32> {
    let key = |point: usize| {
        let given = rules.ranks.get(point).copied().unwrap_or(0);
        if rules.first == Some(point) {
            (0, 0)
        } else if rules.last == Some(point) {
            (2, 0)
        } else {
            (1, given)
        }
    };
    let sites = || (0..n).filter(|&point| point != rules.start && Some(point) != end);
    let mut keys: Vec<(u32, u32)> = sites().map(key).collect();
    keys.sort_unstable();
    keys.dedup();
    let mut rank = vec![0; n];
    for point in sites() {
        rank[point] = keys.partition_point(|known| *known < key(point)) as u32;
    }
    rank
}
