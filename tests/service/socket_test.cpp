#include <gtest/gtest.h>
#include <httplib.h>

#include <atomic>
#include <future>
#include <stop_token>
#include <thread>

#include "service/house.h"
#include "service/pages.h"
#include "service/serve.h"

// What only a socket can show: ports, headers, the stream, the end.
namespace stillroom::service {
namespace {

/// Serves a household on a thread of its own until it goes out of scope.
class Running {
 public:
  explicit Running(int first_port = 18137) {
    std::promise<int> port;
    auto found = port.get_future();
    thread_ = std::thread([this, first_port, &port] {
      ServeOptions options;
      options.port = first_port;
      options.clock = [this] { return house.now; };
      options.plan_seconds = 0.1;
      options.listening = [&port](int p) { port.set_value(p); };
      options.stop = stop_.get_token();
      const auto served = serve(house.house, options);
      EXPECT_TRUE(served);
    });
    this->port = found.get();
    // The listening is announced once the port is had; wait until it answers.
    for (int i = 0; i < 100; ++i) {
      if (httplib::Client("127.0.0.1", this->port).Get("/api/v1/household")) break;
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
  }
  ~Running() {
    stop_.request_stop();
    thread_.join();
  }
  Running(const Running&) = delete;
  Running& operator=(const Running&) = delete;

  House house;
  int port = 0;

 private:
  std::stop_source stop_;
  std::thread thread_;
};

TEST(Served, PagesComeWithATagAndAreNotSentTwice) {
  Running running;
  httplib::Client client("127.0.0.1", running.port);
  const auto first = client.Get("/larder");
  ASSERT_TRUE(first);
  EXPECT_EQ(first->status, 200);
  EXPECT_EQ(first->get_header_value("Cache-Control"), "no-cache");
  EXPECT_EQ(first->get_header_value("X-Content-Type-Options"), "nosniff");
  EXPECT_FALSE(first->get_header_value("Content-Security-Policy").empty());
  const std::string tag = first->get_header_value("ETag");
  EXPECT_EQ(tag, page_at("/")->etag);
  const auto again = client.Get("/larder", {{"If-None-Match", tag}});
  ASSERT_TRUE(again);
  EXPECT_EQ(again->status, 304);
  EXPECT_TRUE(again->body.empty());
}

TEST(Served, JsonIsPackedWhereThatIsWorthIt) {
  Running running;
  httplib::Client client("127.0.0.1", running.port);
  client.set_decompress(false);
  const auto crops = client.Get("/api/v1/crops", {{"Accept-Encoding", "gzip"}});
  ASSERT_TRUE(crops);
  EXPECT_EQ(crops->get_header_value("Content-Encoding"), "gzip");
  EXPECT_EQ(crops->get_header_value("Cache-Control"), "no-store");
  EXPECT_EQ(crops->body.substr(0, 2), "\x1f\x8b");
}

TEST(Served, AnotherNameForThisMachineIsTurnedAway) {
  Running running;
  httplib::Client client("127.0.0.1", running.port);
  for (const char* path : {"/", "/api/v1/day", "/api/v1/events"}) {
    const auto answer = client.Get(path, {{"Host", "rebound.example"}});
    ASSERT_TRUE(answer) << path;
    EXPECT_EQ(answer->status, 403) << path;
  }
}

TEST(Served, ASecondServerTakesTheNextPort) {
  Running first(18150);
  Running second(18150);
  EXPECT_NE(first.port, second.port);
}

TEST(Served, TheStreamTellsOfAChangeMadeByAnotherPage) {
  Running running;
  httplib::Client listener("127.0.0.1", running.port);
  listener.set_read_timeout(20);
  std::string heard;
  std::atomic<bool> connected = false;
  std::thread listening([&] {
    (void)listener.Get("/api/v1/events", [&](const char* data, std::size_t size) {
      heard.append(data, size);
      connected = true;
      return heard.find("event: changed") == std::string::npos;
    });
  });
  while (!connected) std::this_thread::sleep_for(std::chrono::milliseconds(10));
  httplib::Client page("127.0.0.1", running.port);
  const auto answered = page.Post("/api/v1/start", R"({"key":"freezer","answer":"5 cu ft"})", "application/json");
  ASSERT_TRUE(answered);
  EXPECT_EQ(answered->status, 200);
  listening.join();
  EXPECT_NE(heard.find("event: changed\ndata: {\"sequence\":"), std::string::npos) << heard;
}

TEST(Served, EndsThoughItWasStoppedBeforeItListened) {
  House house;
  std::stop_source stop;
  stop.request_stop();
  ServeOptions options;
  options.port = 18170;
  options.listening = [](int) {};
  options.stop = stop.get_token();
  EXPECT_TRUE(serve(house.house, options));
}

TEST(Served, EndsAtOnceWhileAPageListens) {
  auto running = std::make_unique<Running>();
  httplib::Client listener("127.0.0.1", running->port);
  listener.set_read_timeout(20);
  std::atomic<bool> connected = false;
  std::thread listening([&] {
    (void)listener.Get("/api/v1/events", [&](const char*, std::size_t) {
      connected = true;
      return true;
    });
  });
  while (!connected) std::this_thread::sleep_for(std::chrono::milliseconds(10));
  const auto begun = std::chrono::steady_clock::now();
  running.reset();
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(5));
  listening.join();
}

}  // namespace
}  // namespace stillroom::service
