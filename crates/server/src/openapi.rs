use crate::api;
use utoipa::OpenApi;

#[derive(OpenApi)]
#[openapi(
    info(
        title = "Quillwort",
        description = "A lake book, read and written. SI units; lengths in metres, areas in square metres, depths positive downwards."
    ),
    paths(
        api::book::book,
        api::lake::lake,
        api::lake::map,
        api::surveys::surveys,
        api::surveys::sites,
        api::surveys::check,
        api::entry::entry,
        api::entry::save_visit,
        api::entry::delete_visit,
        api::entry::visit_log,
        api::entry::save_header,
        api::entry::save_bed,
        api::entry::delete_bed,
        api::entry::save_shoreline,
        api::entry::delete_shoreline,
        api::entry::survey_log,
        api::entry::add_taxon,
        api::entry::add_unknown,
        api::entry::species,
        api::entry::undo,
        api::keeping::settle,
        api::keeping::conflicts,
        api::keeping::settle_conflict,
        api::keeping::resolve,
        api::keeping::second_entries,
        api::keeping::save_second,
        api::keeping::choose_entry,
        api::keeping::photos,
        api::keeping::save_photo,
        api::keeping::picture,
        api::findings::findings,
        api::findings::extent,
        api::compare::compare,
        api::route::route,
        api::plan::effort,
        api::plan::designs,
        api::plan::preview,
        api::plan::plan,
        api::efficacy::treatments,
        api::efficacy::efficacy,
        api::trend::trend,
        api::trend::trends,
        api::trend::spread,
        api::route::kept,
        api::route::keep,
        api::route::forget,
        api::plan::planned,
        api::plan::change_site,
        api::papers::begin,
        api::papers::add_site,
        api::papers::record_file,
        api::papers::seal,
        api::papers::verify,
        api::prints::print,
        api::prints::print_lake,
        api::exports::export,
    )
)]
struct Document;

/// The contract between the server and the screens; `web/openapi.json` is this, written down.
pub fn openapi() -> utoipa::openapi::OpenApi {
    Document::openapi()
}
