use super::BookDesk;
use server::PlanDesk;

impl PlanDesk for BookDesk {}
