use super::lin_kernighan::Budget;
use super::tour::{Finish, TourRules, dense_ranks, shortest_tour};
use super::{Matrix, RouteError};
use crate::random::Draw;

/// Rounds without a better plan after which the search rests.
const PATIENCE: u32 = 80;
/// Kicks one round of the search counts for.
const KICKS_A_ROUND: u64 = 10;

/// The sites shared out among boats: what the search changes.
#[derive(Debug, Clone)]
pub(crate) struct Share {
    pub routes: Vec<Vec<usize>>,
    /// Sites for which there is no time.
    pub over: Vec<usize>,
}

/// Which of two plans is better: fewer priority sites over, fewer sites over, the last boat home earlier, less
/// time in all; compared in this order.
type Worth = (usize, usize, f64, f64);

/// The task of sharing out: points, times, rules.
pub(crate) struct Fleet<'a> {
    pub matrix: &'a Matrix,
    pub rules: &'a TourRules,
    pub minutes_a_metre: f64,
    pub site_minutes: &'a [f64],
    pub priority: &'a [bool],
    pub n_routes: usize,
    /// Minutes of work a boat may do.
    pub room: f64,
    rank: Vec<u32>,
    sites: Vec<usize>,
}

/// The budget, asked from two places.
pub(crate) struct Meter<'b> {
    budget: Budget<'b>,
    used: u64,
}

impl<'b> Meter<'b> {
    pub(crate) fn new(budget: Budget<'b>) -> Self {
        Self { budget, used: 0 }
    }

    fn go_on(&mut self, kicks: u64) -> bool {
        self.used += kicks;
        match &mut self.budget {
            Budget::Kicks(most) => self.used <= *most,
            Budget::While(ask) => ask(),
        }
    }
}

impl<'a> Fleet<'a> {
    pub(crate) fn new(
        matrix: &'a Matrix,
        rules: &'a TourRules,
        minutes_a_metre: f64,
        site_minutes: &'a [f64],
        priority: &'a [bool],
        (n_routes, room): (usize, f64),
    ) -> Self {
        let end = match rules.finish {
            Finish::At(point) => Some(point),
            Finish::AtStart | Finish::Anywhere => None,
        };
        let n = matrix.len();
        let sites = (0..n).filter(|&p| p != rules.start && Some(p) != end).collect();
        let rank = dense_ranks(rules, n, end);
        Self { matrix, rules, minutes_a_metre, site_minutes, priority, n_routes, room, rank, sites }
    }

    /// Shares the sites out and searches for a better share until the budget or the patience is spent.
    ///
    /// Route first, cluster second (Beasley 1983, Omega 11: 403–408): one tour through all, cut where the longest part is
    /// shortest; then ruin and recreate (Schrimpf et al. 2000, Journal of Computational Physics 159: 139–171): sites about a
    /// place are taken out and put back where they cost least.
    pub(crate) fn share(&self, meter: &mut Meter<'_>) -> Result<Share, RouteError> {
        let mut left = 40 * self.sites.len() as u64;
        let mut ask = || {
            left = left.saturating_sub(32);
            left > 0 && meter.go_on(32)
        };
        let giant = shortest_tour(self.matrix, self.rules, Budget::While(&mut ask))?;
        let order: Vec<usize> =
            giant.order.into_iter().filter(|point| self.sites.contains(point)).collect();
        let mut share = Share { routes: self.cut(&order), over: Vec::new() };
        let mut draw = Draw::new(self.rules.seed);
        // first as if the day had no end, unless it is plain that it is too short
        let least: f64 = self.sites.iter().map(|&site| self.site_minutes[site]).sum();
        if least <= self.room * self.n_routes as f64 && self.n_routes > 1 {
            self.search(&mut share, f64::INFINITY, &mut draw, meter)?;
        }
        if share.routes.iter().any(|route| self.work(route) > self.room) {
            for route in &mut share.routes {
                self.drop_until_it_fits(route, &mut share.over);
            }
            self.search(&mut share, self.room, &mut draw, meter)?;
        }
        Ok(share)
    }

    fn search(
        &self,
        share: &mut Share,
        room: f64,
        draw: &mut Draw,
        meter: &mut Meter<'_>,
    ) -> Result<(), RouteError> {
        let mut worth = self.worth(share);
        let mut idle = 0;
        while idle < PATIENCE && meter.go_on(KICKS_A_ROUND) {
            let mut trial = share.clone();
            let mut loose = self.ruin(&mut trial, draw);
            loose.append(&mut trial.over);
            for k in (1..loose.len()).rev() {
                loose.swap(k, draw.below(k + 1));
            }
            loose.sort_by_key(|&site| !self.is_priority(site));
            let before = trial.routes.clone();
            self.recreate(&mut trial, loose, room);
            for (route, before) in trial.routes.iter_mut().zip(&before) {
                if route.len() != before.len() || idle % 8 == 0 {
                    self.shorten(route, draw.bits())?;
                }
            }
            let trial_worth = self.worth(&trial);
            let better = is_better(trial_worth, worth);
            if better || trial_worth == worth {
                *share = trial;
                worth = trial_worth;
            }
            idle = if better { 0 } else { idle + 1 };
        }
        Ok(())
    }

    /// Takes out a site and some of those nearest to it; half the time the site is of the longest route.
    fn ruin(&self, share: &mut Share, draw: &mut Draw) -> Vec<usize> {
        let placed: Vec<usize> = share.routes.iter().flatten().copied().collect();
        if placed.is_empty() {
            return Vec::new();
        }
        let longest = share
            .routes
            .iter()
            .max_by(|a, b| self.work(a).total_cmp(&self.work(b)))
            .filter(|route| !route.is_empty());
        let centre = match longest {
            Some(route) if draw.chance(0.5) => route[draw.below(route.len())],
            _ => placed[draw.below(placed.len())],
        };
        let n_out = 1 + draw.below((placed.len() / 4).clamp(1, 20));
        let mut near = placed;
        near.sort_by(|&a, &b| {
            self.matrix.metres(centre, a).total_cmp(&self.matrix.metres(centre, b))
        });
        near.truncate(n_out);
        for route in &mut share.routes {
            route.retain(|site| !near.contains(site));
        }
        near
    }

    /// Puts sites where they cost least without making the longest route longer if that can be helped; those
    /// that fit nowhere are over.
    fn recreate(&self, share: &mut Share, loose: Vec<usize>, room: f64) {
        let mut work: Vec<f64> = share.routes.iter().map(|route| self.work(route)).collect();
        for site in loose {
            let longest = work.iter().copied().fold(0.0, f64::max);
            let mut best: Option<(f64, usize, usize, f64)> = None;
            for (r, route) in share.routes.iter().enumerate() {
                for place in 0..=route.len() {
                    let Some(added) = self.insertion(route, place, site) else { continue };
                    let after = work[r] + added;
                    if after > room {
                        continue;
                    }
                    let price = added + 20.0 * (after - longest).max(0.0);
                    if best.is_none_or(|known| price < known.0) {
                        best = Some((price, r, place, added));
                    }
                }
            }
            match best {
                Some((_, r, place, added)) => {
                    share.routes[r].insert(place, site);
                    work[r] += added;
                }
                None => share.over.push(site),
            }
        }
    }

    /// Minutes a site adds at a place of a route; none where the order of ranks forbids it.
    fn insertion(&self, route: &[usize], place: usize, site: usize) -> Option<f64> {
        let (before, after) = (place.checked_sub(1).map(|k| route[k]), route.get(place).copied());
        if before.is_some_and(|b| self.rank[b] > self.rank[site])
            || after.is_some_and(|a| self.rank[a] < self.rank[site])
        {
            return None;
        }
        let from = before.unwrap_or(self.rules.start);
        let to = after.or(self.end());
        let mut metres = self.matrix.metres(from, site);
        if let Some(to) = to {
            metres += self.matrix.metres(site, to);
            if !route.is_empty() {
                metres -= self.matrix.metres(from, to);
            }
        }
        Some(metres * self.minutes_a_metre + self.site_minutes[site])
    }

    /// Drops the sites that free the most time, priority sites last, until the route fits the day.
    fn drop_until_it_fits(&self, route: &mut Vec<usize>, over: &mut Vec<usize>) {
        while self.work(route) > self.room {
            let freed = |place: usize| {
                let mut without = route.clone();
                without.remove(place);
                self.work(route) - self.work(&without)
            };
            let Some((_, place)) = (0..route.len())
                .map(|place| ((self.is_priority(route[place]), -freed(place)), place))
                .min_by(|a, b| a.0.0.cmp(&b.0.0).then(a.0.1.total_cmp(&b.0.1)))
            else {
                break;
            };
            over.push(route.remove(place));
        }
    }

    /// Cuts one tour through all sites into parts so that the longest takes least time.
    fn cut(&self, order: &[usize]) -> Vec<Vec<usize>> {
        let n = order.len();
        let mut along = vec![0.0; n + 1];
        let mut stay = vec![0.0; n + 1];
        for k in 0..n {
            stay[k + 1] = stay[k] + self.site_minutes[order[k]];
            let leg = if k == 0 { 0.0 } else { self.matrix.metres(order[k - 1], order[k]) };
            along[k + 1] = along[k] + leg * self.minutes_a_metre;
        }
        let part = |from: usize, to: usize| {
            if from == to {
                return 0.0;
            }
            let out = self.matrix.metres(self.rules.start, order[from]);
            let home = self.end().map_or(0.0, |end| self.matrix.metres(order[to - 1], end));
            (out + home) * self.minutes_a_metre + along[to] - along[from + 1] + stay[to]
                - stay[from]
        };
        let mut longest: Vec<f64> = (0..=n).map(|to| part(0, to)).collect();
        let mut cuts = vec![vec![0; n + 1]];
        for _ in 1..self.n_routes {
            let mut next = vec![f64::INFINITY; n + 1];
            let mut cut = vec![0; n + 1];
            for to in 0..=n {
                for from in (0..=to).rev() {
                    let last = part(from, to);
                    let value = longest[from].max(last);
                    if value < next[to] {
                        (next[to], cut[to]) = (value, from);
                    }
                }
            }
            longest = next;
            cuts.push(cut);
        }
        let mut routes = Vec::new();
        let mut to = n;
        for cut in cuts.iter().rev() {
            routes.push(order[cut[to]..to].to_vec());
            to = cut[to];
        }
        routes.reverse();
        routes
    }

    /// The same sites in a shorter order.
    fn shorten(&self, route: &mut Vec<usize>, seed: u64) -> Result<(), RouteError> {
        if route.len() < 2 {
            return Ok(());
        }
        let end = self.end().filter(|&end| end != self.rules.start);
        let mut points = vec![self.rules.start];
        points.extend_from_slice(route);
        points.extend(end);
        let rules = TourRules {
            start: 0,
            finish: match self.rules.finish {
                Finish::At(_) if end.is_some() => Finish::At(points.len() - 1),
                Finish::At(_) => Finish::AtStart,
                other => other,
            },
            first: None,
            last: None,
            ranks: points.iter().map(|&point| self.rank[point]).collect(),
            seed,
        };
        let tour = shortest_tour(&self.matrix.subset(&points), &rules, Budget::Kicks(6))?;
        let order: Vec<usize> = tour
            .order
            .into_iter()
            .map(|k| points[k])
            .filter(|&point| point != self.rules.start && Some(point) != end)
            .collect();
        if self.work(&order) < self.work(route) {
            *route = order;
        }
        Ok(())
    }

    fn end(&self) -> Option<usize> {
        match self.rules.finish {
            Finish::AtStart => Some(self.rules.start),
            Finish::At(point) => Some(point),
            Finish::Anywhere => None,
        }
    }

    pub(crate) fn metres(&self, route: &[usize]) -> f64 {
        let (Some(&first), Some(&last)) = (route.first(), route.last()) else { return 0.0 };
        let between: f64 = route.windows(2).map(|leg| self.matrix.metres(leg[0], leg[1])).sum();
        self.matrix.metres(self.rules.start, first)
            + between
            + self.end().map_or(0.0, |end| self.matrix.metres(last, end))
    }

    /// Minutes a route takes, without breaks.
    pub(crate) fn work(&self, route: &[usize]) -> f64 {
        self.metres(route) * self.minutes_a_metre
            + route.iter().map(|&site| self.site_minutes[site]).sum::<f64>()
    }

    fn is_priority(&self, site: usize) -> bool {
        self.priority.get(site).copied().unwrap_or(false)
    }

    fn worth(&self, share: &Share) -> Worth {
        let work = share.routes.iter().map(|route| self.work(route));
        let (longest, total) = work.fold((0.0, 0.0), |(most, all), w| (f64::max(most, w), all + w));
        let n_priority = share.over.iter().filter(|&&site| self.is_priority(site)).count();
        (n_priority, share.over.len(), longest, total)
    }
}

/// True when `a` is better than `b` by more than a rounding.
fn is_better(a: Worth, b: Worth) -> bool {
    let grain = 1e-7;
    (a.0, a.1).cmp(&(b.0, b.1)).is_lt()
        || ((a.0, a.1) == (b.0, b.1)
            && (a.2 < b.2 - grain || (a.2 <= b.2 + grain && a.3 < b.3 - grain)))
}
