use std::collections::HashMap;

/// Gives places numbers; places nearer than `reach` to a known one get its number.
#[derive(Debug)]
pub(crate) struct Snap {
    reach: f64,
    places: Vec<(f64, f64)>,
    squares: HashMap<(i64, i64), Vec<u32>>,
}

impl Snap {
    pub(crate) fn new(reach: f64) -> Self {
        Self { reach, places: Vec::new(), squares: HashMap::new() }
    }

    fn square(&self, (x, y): (f64, f64)) -> (i64, i64) {
        ((x / self.reach).floor() as i64, (y / self.reach).floor() as i64)
    }

    /// Number of the place, new or known.
    pub(crate) fn number(&mut self, place: (f64, f64)) -> u32 {
        let (column, row) = self.square(place);
        for dx in -1..=1 {
            for dy in -1..=1 {
                for &known in self.squares.get(&(column + dx, row + dy)).into_iter().flatten() {
                    let (x, y) = self.places[known as usize];
                    if (x - place.0).hypot(y - place.1) <= self.reach {
                        return known;
                    }
                }
            }
        }
        self.add(place)
    }

    /// A number of its own, whatever lies near.
    pub(crate) fn add(&mut self, place: (f64, f64)) -> u32 {
        let number = self.places.len() as u32;
        let square = self.square(place);
        self.places.push(place);
        self.squares.entry(square).or_default().push(number);
        number
    }

    pub(crate) fn place(&self, number: u32) -> (f64, f64) {
        self.places[number as usize]
    }

    pub(crate) fn len(&self) -> usize {
        self.places.len()
    }
}
