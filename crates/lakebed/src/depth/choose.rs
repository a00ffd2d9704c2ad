//! Which of the two surfaces predicts depths it has not seen better.

use super::surface::{Constrained, Delaunay, Network, Surface};
use super::validate::{self, DepthModelError};
use super::{DepthError, Method};
use crate::at_once;

/// A surface with its error, and the one not taken.
pub(super) struct Chosen {
    pub(super) surface: Surface,
    pub(super) error: Option<DepthModelError>,
    pub(super) rejected: Option<(Method, DepthModelError)>,
}

pub(super) fn choose(
    network: &Network,
    mut linear: Constrained,
    natural: Option<Delaunay>,
    method: Method,
) -> Result<Chosen, DepthError> {
    let plain = |surface: Surface, error| Chosen { surface, error, rejected: None };
    if method == Method::NaturalNeighbour {
        let natural = natural.or_else(|| network.delaunay());
        let mut natural = natural.ok_or(DepthError::NoTriangulation)?;
        let error = validate::natural(network, &mut natural);
        return Ok(plain(Surface::NaturalNeighbour(natural), error));
    }
    let (by_planes, by_neighbours) = at_once(
        || validate::linear(network, &mut linear),
        || {
            let mut natural = natural?;
            let error = validate::natural(network, &mut natural)?;
            Some((natural, error))
        },
    );
    let Some(by_planes) = by_planes else {
        return Ok(plain(Surface::Linear(linear), validate::contours(network)));
    };
    let Some((natural, by_neighbours)) = by_neighbours else {
        return Ok(plain(Surface::Linear(linear), Some(by_planes)));
    };
    Ok(if by_neighbours.mean < by_planes.mean {
        Chosen {
            surface: Surface::NaturalNeighbour(natural),
            error: Some(by_neighbours),
            rejected: Some((Method::Linear, by_planes)),
        }
    } else {
        Chosen {
            surface: Surface::Linear(linear),
            error: Some(by_planes),
            rejected: Some((Method::NaturalNeighbour, by_neighbours)),
        }
    })
}
