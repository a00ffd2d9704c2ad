use crate::sampled::Sampled;
use crate::stats::design::{DesignError, DesignEstimate, DesignSite, design_estimate};
use crate::stats::occupancy::{Occupancy, OccupancyError, Throws, occupancy};
use survey::{Code, SiteResult, SurveyRecord, TaxonId};

/// Mean radius of the Earth in metres (IUGG).
const EARTH_RADIUS: f64 = 6_371_008.8;

/// How well repeated throws find one taxon.
#[derive(Debug, Clone, PartialEq)]
pub struct TaxonDetection {
    /// The taxon.
    pub taxon: TaxonId,
    /// Its code.
    pub code: Code,
    /// The fitted model, or why the throws cannot tell.
    pub fit: Result<Occupancy, OccupancyError>,
}

/// Frequencies with the weights of the layout.
#[derive(Debug, Clone, PartialEq)]
pub struct DesignFindings {
    /// Any plant.
    pub any: DesignEstimate,
    /// Taxa found on the rake, in the order of the lake's list.
    pub taxa: Vec<(TaxonId, DesignEstimate)>,
    /// Sampled sites without an inclusion probability, left out.
    pub left_out: usize,
}

/// Occupancy of every taxon found on the rake, throws standing for visits, in the order of the list.
///
/// # Assumptions
/// Sites with published counts only have no throws and are left out. See [`occupancy`].
pub fn detection(record: &SurveyRecord) -> Vec<TaxonDetection> {
    let samplings: Vec<_> = record
        .visits
        .iter()
        .filter_map(|visit| match &visit.result {
            SiteResult::Sampled(sampling) if !sampling.throws().is_empty() => Some(sampling),
            _ => None,
        })
        .collect();
    record
        .taxa
        .iter()
        .filter_map(|taxon| {
            let sites: Vec<Throws> = samplings
                .iter()
                .map(|sampling| {
                    let throws = sampling.throws();
                    let found = throws.iter().filter(|throw| {
                        throw
                            .observations
                            .iter()
                            .any(|one| one.taxon == taxon.id && record.on_rake(one))
                    });
                    Throws { found: found.count() as u32, thrown: throws.len() as u32 }
                })
                .collect();
            sites.iter().any(|site| site.found > 0).then(|| TaxonDetection {
                taxon: taxon.id,
                code: taxon.code.clone(),
                fit: occupancy(&sites),
            })
        })
        .collect()
}

/// Design-weighted frequencies from the inclusion probabilities of the plan.
///
/// # Assumptions
/// Planned positions are put on a plane by the local scale of longitude: good for telling neighbours.
/// See [`design_estimate`].
/// # Errors
/// [`DesignError`] when fewer than two sampled sites have a probability, or one is impossible.
pub fn design_weighted(record: &SurveyRecord) -> Result<DesignFindings, DesignError> {
    let sampled = Sampled::of(record);
    let latitudes: Vec<f64> =
        sampled.sites.iter().filter_map(|site| Some(site.site?.planned?.latitude())).collect();
    let middle = latitudes.iter().sum::<f64>() / latitudes.len().max(1) as f64;
    let weighted: Vec<(usize, f64, Option<[f64; 2]>)> = sampled
        .sites
        .iter()
        .enumerate()
        .filter_map(|(number, sampled)| {
            let site = sampled.site?;
            let place = site.planned.map(|at| {
                let scale = middle.to_radians().cos();
                [
                    EARTH_RADIUS * scale * at.longitude().to_radians(),
                    EARTH_RADIUS * at.latitude().to_radians(),
                ]
            });
            Some((number, site.inclusion_probability?, place))
        })
        .collect();
    let estimate = |there: &dyn Fn(usize) -> bool| {
        let sites: Vec<DesignSite> = weighted
            .iter()
            .map(|(number, chance, place)| DesignSite {
                value: f64::from(there(*number)),
                inclusion_probability: *chance,
                place: *place,
            })
            .collect();
        design_estimate(&sites)
    };
    let any = estimate(&|number| sampled.sites[number].plants)?;
    let mut taxa = Vec::new();
    for (place, taxon) in record.taxa.iter().enumerate() {
        let on = |number: usize| crate::compare::change::has(&sampled.sites[number], Some(place));
        if (0..sampled.sites.len()).any(on) {
            taxa.push((taxon.id, estimate(&on)?));
        }
    }
    Ok(DesignFindings { any, taxa, left_out: sampled.sites.len() - weighted.len() })
}
