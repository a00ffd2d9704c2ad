//! Clock, randomness, device and person: what the store may not fetch for itself.

use std::sync::{Mutex, PoisonError};
use survey::Id;

/// What the outside world tells the store. The program gives real values, a test fixed ones.
pub trait Ports: Send + Sync {
    /// Milliseconds since 1970-01-01 UTC.
    fn now_unix_millis(&self) -> u64;
    /// 128 random bits, fresh at each call.
    fn random(&self) -> u128;
    /// A stable name of this device; every event carries it.
    fn device(&self) -> String;
    /// Who is writing.
    fn actor(&self) -> String;
}

/// One key, made from the clock and random bits.
///
/// Two keys of the same millisecond have no order; an [`IdMaker`] or [`crate::LakeBook::new_id`]
/// gives keys that rise.
pub fn new_id(ports: &dyn Ports) -> Id {
    Id::v7(ports.now_unix_millis(), ports.random())
}

/// Makes UUIDv7 keys that always rise, also within one millisecond and when the clock steps back.
///
/// # References
/// RFC 9562 (2024), section 6.2, method 2: within one millisecond the random part counts on.
#[derive(Debug, Default)]
pub struct IdMaker {
    last: Mutex<u128>,
}

/// The random bits of a UUIDv7 that may count on: 62, below the variant.
const COUNTER_BITS: u128 = 0x3fff_ffff_ffff_ffff;
/// Counting on by up to this much keeps keys hard to guess and leaves room for many.
const LARGEST_STEP: u128 = 0xffff_ffff;

impl IdMaker {
    /// Goes on after a key made earlier.
    pub fn after(last: Id) -> Self {
        Self { last: Mutex::new(last.bits()) }
    }

    /// The next key.
    pub fn next_id(&self, ports: &dyn Ports) -> Id {
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        let random = ports.random();
        let fresh = Id::v7(ports.now_unix_millis(), random).bits();
        *last = if fresh >> 80 > *last >> 80 || (fresh >> 80 == *last >> 80 && fresh > *last) {
            fresh
        } else {
            let step = (random & LARGEST_STEP) + 1;
            let counter = (*last & COUNTER_BITS) + step;
            if counter > COUNTER_BITS {
                // the millisecond is full: go on in the next one
                Id::v7((*last >> 80) as u64 + 1, random).bits()
            } else {
                (*last & !COUNTER_BITS) | counter
            }
        };
        Id::from_bits(*last)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Fixed(u64, u128);
    impl Ports for Fixed {
        fn now_unix_millis(&self) -> u64 {
            self.0
        }
        fn random(&self) -> u128 {
            self.1
        }
        fn device(&self) -> String {
            "desk".into()
        }
        fn actor(&self) -> String {
            "Ann".into()
        }
    }

    /// Source: RFC 9562 (2024), section 6.2: keys of one node rise.
    #[test]
    fn keys_rise_within_a_millisecond_and_when_the_clock_steps_back() {
        let maker = IdMaker::default();
        let mut last = Id::from_bits(0);
        for (time, random) in [(5, 7), (5, 7), (5, 0), (4, u128::MAX), (5, u128::MAX), (6, 0)] {
            for _ in 0..100 {
                let next = maker.next_id(&Fixed(time, random));
                assert!(next > last, "{next} is not above {last}");
                assert_eq!((next.bits() >> 76 & 0xf, next.bits() >> 62 & 0b11), (7, 0b10));
                last = next;
            }
        }
    }
}
