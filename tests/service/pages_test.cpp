#include "service/pages.h"

#include <gtest/gtest.h>

namespace stillroom::service {
namespace {

TEST(Pages, AreServedAtEveryAddressOfTheirOwn) {
  const PageFile* page = page_at("/");
  ASSERT_NE(page, nullptr);
  EXPECT_EQ(page->type, "text/html; charset=utf-8");
  EXPECT_FALSE(page->immutable);
  EXPECT_NE(page->raw.find("<div id=\"app\">"), std::string_view::npos);
  EXPECT_EQ(page_at("/larder"), page);
  EXPECT_EQ(page_at("/lots/7f3a"), page);
}

TEST(Pages, AFileThatIsNotThereIsNotThePage) {
  EXPECT_EQ(page_at("/assets/gone.js"), nullptr);
  EXPECT_EQ(page_at("/../etc/passwd.txt"), nullptr);
}

TEST(Pages, KeepOnlyWhatIsNamedByItsContents) {
  const PageFile* worker = page_at("/sw.js");
  ASSERT_NE(worker, nullptr);
  EXPECT_FALSE(worker->immutable) << "a service worker that cannot be renewed would keep old pages for ever";
  const auto at = worker->raw.find("/assets/index-");
  ASSERT_NE(at, std::string_view::npos);
  const PageFile* asset = page_at(worker->raw.substr(at, worker->raw.find('"', at) - at));
  ASSERT_NE(asset, nullptr);
  EXPECT_TRUE(asset->immutable);
}

TEST(Pages, ComeInTheFormTheBrowserTakes) {
  const PageFile* page = page_at("/");
  ASSERT_NE(page, nullptr);
  EXPECT_EQ(encoding_for(*page, "gzip, deflate, br, zstd"), "br");
  EXPECT_EQ(encoding_for(*page, "gzip;q=1.0, br;q=0"), "gzip");
  EXPECT_EQ(encoding_for(*page, "gzip;q=0.5"), "gzip");
  EXPECT_EQ(encoding_for(*page, ""), "");
  EXPECT_EQ(encoding_for(*page, "brotli"), "");
  EXPECT_LT(page->brotli.size(), page->raw.size());
  EXPECT_EQ(page->gzip.substr(0, 2), "\x1f\x8b");
}

}  // namespace
}  // namespace stillroom::service
