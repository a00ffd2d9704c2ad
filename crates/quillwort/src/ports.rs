//! The clock, the random source, this device and its user, as the store wants them.

use std::sync::Arc;
use workflow::Ports;

/// The real world.
#[derive(Debug)]
struct World {
    device: String,
    actor: String,
}

impl Ports for World {
    #[expect(clippy::disallowed_methods, reason = "the one place that reads the clock")]
    fn now_unix_millis(&self) -> u64 {
        std::time::SystemTime::now()
            .duration_since(std::time::UNIX_EPOCH)
            .map_or(0, |since| u64::try_from(since.as_millis()).unwrap_or(u64::MAX))
    }

    fn random(&self) -> u128 {
        let mut bytes = [0; 16];
        // without a random source keys would collide: better no key at all
        #[expect(
            clippy::expect_used,
            reason = "an operating system without randomness is no place to keep records"
        )]
        getrandom::fill(&mut bytes).expect("the operating system gives random numbers");
        u128::from_le_bytes(bytes)
    }

    fn device(&self) -> String {
        self.device.clone()
    }

    fn actor(&self) -> String {
        self.actor.clone()
    }
}

/// This machine and a person who gave a name; the one logged in when it is empty.
pub(crate) fn world_of(name: &str) -> Arc<dyn Ports> {
    let (device, actor) = here();
    let name = name.trim();
    let actor = if name.is_empty() { actor } else { name.to_owned() };
    Arc::new(World { device, actor })
}

/// This machine and the person logged in to it.
pub(crate) fn world() -> Arc<dyn Ports> {
    let (device, actor) = here();
    Arc::new(World { device, actor })
}

/// The name of this device, and who is logged in to it.
fn here() -> (String, String) {
    let first = |names: &[&str], otherwise: &str| {
        names
            .iter()
            .filter_map(|name| std::env::var(name).ok())
            .find(|value| !value.trim().is_empty())
            .unwrap_or_else(|| otherwise.to_owned())
    };
    let actor = first(&["QUILLWORT_ACTOR", "USER", "USERNAME"], "unnamed");
    let host = std::fs::read_to_string("/etc/hostname").unwrap_or_default();
    let host =
        if host.trim().is_empty() { first(&["HOSTNAME", "COMPUTERNAME"], "desk") } else { host };
    (format!("{}@{}", actor, host.trim()), actor)
}

/// Today, for papers that carry a date.
pub(crate) fn today() -> jiff::civil::Date {
    let millis = i64::try_from(world().now_unix_millis()).unwrap_or(0);
    jiff::Timestamp::from_millisecond(millis)
        .map(|now| jiff::tz::TimeZone::system().to_datetime(now).date())
        .unwrap_or_default()
}

/// Minutes this machine's clock is ahead of UTC on a day.
pub(crate) fn utc_offset_minutes(date: jiff::civil::Date) -> i32 {
    let noon = date
        .to_datetime(jiff::civil::Time::midnight())
        .saturating_add(jiff::SignedDuration::from_hours(12));
    jiff::tz::TimeZone::system()
        .to_zoned_datetime(noon)
        .map_or(0, |zoned| zoned.offset().seconds() / 60)
}

/// The day and its clock, for a route.
pub(crate) fn local() -> workflow::route::Local {
    workflow::route::Local { today: today(), utc_offset_minutes }
}
