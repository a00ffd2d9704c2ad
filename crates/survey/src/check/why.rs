/// Why a kind of find matters, in a sentence.
pub fn why(kind: &str) -> &'static str {
    match kind {
        "missing-date" | "date-outside-survey" => {
            "plants come and go with the season: without its day a survey compares with none"
        }
        "missing-crew" | "missing-identifier" => {
            "a name is worth as much as the person who gave it; agencies ask who identified what"
        }
        "missing-conditions" | "missing-secchi" => {
            "how clear the water was tells how deep plants can grow, and how well they were seen"
        }
        "no-sites" | "no-visit" => {
            "a site without an outcome is neither zero nor found: it falls out of every share"
        }
        "no-reason" => {
            "why a site was not reached decides whether plants or depth kept the boat away"
        }
        "missing-depth" => {
            "shares are of the littoral zone: a site without depth cannot be counted in it"
        }
        "throws-missing" | "rake-not-written" => {
            "fewer throws find fewer species; a bare rake is a result and must be written as one"
        }
        "rating-above-total" | "bare-rake-with-plants" | "plants-not-named" => {
            "one of two figures on the sheet is wrong, and the mean rating takes it in"
        }
        "deeper-than-lake" | "depth-off-map" => {
            "feet taken for metres, or the wrong site number, move plants to where they are not"
        }
        "deeper-than-known" | "deep-for-its-form" => {
            "the deepest find sets the edge of the plant zone: one slip moves it"
        }
        "far-from-plan" => {
            "a site that moved is another site: the comparison with other years is off"
        }
        "scale-changed" => {
            "ratings on two scales are not compared: a change nobody explained looks like a slip"
        }
        "hours-backwards" | "outside-hours" | "same-time" | "too-fast" => {
            "hours out of order often mean two sheets or two site numbers were swapped"
        }
        "one-person-two-names" => {
            "two spellings count as two observers, and observers are compared"
        }
        "outside-season" | "late-for-its-kind" => {
            "what is not up yet or has died back is missed; out of its season a plant is often another"
        }
        "outside-scope" => "what was not looked for everywhere has no frequency",
        "not-yet-named" => "an unknown counts as a species of its own until it is named",
        "first-record" => "a first record changes the lake's list: it needs a specimen behind it",
        _ => "",
    }
}
