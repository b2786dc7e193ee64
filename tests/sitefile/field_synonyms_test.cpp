#include "sitefile/field_synonyms.hpp"

#include <algorithm>

#include "catch.hpp"
#include "site/fields.hpp"
#include "sitefile/parts_list_fields.hpp"

using namespace amptally;
using namespace amptally::io;

namespace {

/// The lists of words a file may choose from: the fields of each object, the choices of each field.
std::vector<std::vector<std::string_view>> lists_of_words() {
  std::vector<std::vector<std::string_view>> lists;
  for (const auto fields : {all_fields(), parts_fields()}) {
    for (const Field& field : fields) {
      lists.push_back(choice_words(field));
      const std::string_view object =
          field.path.substr(0, std::min(field.path.rfind('.'), field.path.size()));
      std::vector<std::string_view> names;
      for (const Field* const inside : fields_inside(object == field.path ? "" : object, fields)) {
        names.push_back(field_name(*inside));
      }
      lists.push_back(names);
    }
  }
  return lists;
}

}  // namespace

TEST_CASE("a synonym of a field is answered with the field it means, where that field may stand",
          "[io][errors]") {
  const auto lists = lists_of_words();
  for (const OtherWord& pair : other_words()) {
    CAPTURE(pair.written, pair.meant);
    CHECK(std::any_of(lists.begin(), lists.end(), [&](const auto& words) {
      const bool is_wrong = std::find(words.begin(), words.end(), pair.written) == words.end();
      return is_wrong && other_word(pair.written, words) == pair.meant;
    }));
  }
}

TEST_CASE("a field's synonym is offered rather than a field spelled alike, however it is joined",
          "[io][errors]") {
  const std::vector<std::string_view> words = {"lift", "capacity", "utc_offset", "size_"};
  CHECK(other_word("size", words) == "capacity");
  CHECK(likely_word("size", words) == "capacity");
  CHECK(likely_word("lifd", words) == "lift");
  CHECK(other_word("Time zone", words) == "utc_offset");
  CHECK(other_word("time-zone", words) == "utc_offset");
  CHECK(other_word("", words).empty());
  CHECK(likely_word("colour", words).empty());
}

TEST_CASE("a field is offered for a path that is nearly its own, or says it in other words",
          "[io][fields]") {
  CHECK(near_miss_field("battery.capcity") == "battery.capacity");
  CHECK(near_miss_field("load[pump].draw") == "loads[pump].draw");
  CHECK(near_miss_field("capacity") == "battery.capacity");
  CHECK(near_miss_field("capasity") == "battery.capacity");
  CHECK(near_miss_field("colour").empty());
  // In other words, and never from another object or nearly nothing.
  CHECK(near_miss_field("battery.size") == "battery.capacity");
  CHECK(near_miss_field("loads[pump].current") == "loads[pump].draw");
  CHECK(near_miss_field("watts") == "panel.power");
  CHECK(near_miss_field("location") == "place");
  CHECK(near_miss_field("battery.sizx").empty());
  CHECK(near_miss_field("battery.tilt").empty());
}
