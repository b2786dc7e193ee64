#pragma once

#include "amptally/rough.hpp"
#include "amptally/site.hpp"

#include "report/document.hpp"

/// What rough numbers leave open, for every command that has a site with ranges.
namespace amptally::report {

/// Adds how the site fares over its ranges and what to measure first; nothing where `study` is
/// null.
void append_rough(Document& document, const Site& site, const RoughStudy* study);

}  // namespace amptally::report
