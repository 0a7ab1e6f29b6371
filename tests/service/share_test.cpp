#include "share/share.h"

#include <gtest/gtest.h>
#include <httplib.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <fstream>
#include <future>
#include <nlohmann/json.hpp>
#include <set>
#include <stop_token>
#include <thread>

#include "service/house.h"
#include "service/pages.h"
#include "service/serve.h"
#include "share/support.h"

// A household that is open to its home network, as devices and attackers meet it: through real sockets, with TLS
// checked by the client library.
namespace stillroom::service {
namespace {

using nlohmann::json;
using std::chrono::milliseconds;

constexpr const char* kPassphrase = "plum jar attic hen";

/// A port that is free just now.
int free_port() {
  const int socket = ::socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof address;
  EXPECT_EQ(::bind(socket, reinterpret_cast<sockaddr*>(&address), size), 0);
  EXPECT_EQ(::getsockname(socket, reinterpret_cast<sockaddr*>(&address), &size), 0);
  ::close(socket);
  return ntohs(address.sin_port);
}

/// Trusts one authority and no other, and asks this machine for `host`.
class TrustingClient : public httplib::SSLClient {
 public:
  TrustingClient(const std::string& host, int port, const std::string& trusted) : httplib::SSLClient(host, port) {
    set_hostname_addr_map({{host, "127.0.0.1"}});
    set_ca_cert_path(trusted);
    enable_server_certificate_verification(true);
    set_read_timeout(20);
  }
};

/// Serves a household to this machine and to its home network until it goes out of scope.
class Shared {
 public:
  Shared() : secure_port(free_port()), plain_port(free_port()) {
    auto opened = share::Share::open({.folder = folder.path / "house.share",
                                      .secure_port = secure_port,
                                      .plain_port = plain_port,
                                      .clock = [this] { return now.load(); },
                                      .network =
                                          [this] {
                                            const std::lock_guard guard(mutex_);
                                            return network_;
                                          },
                                      .cost = {.log2_n = 4}});
    if (!opened) throw std::runtime_error(opened.error().message);
    share = std::move(*opened);
    EXPECT_TRUE(share->set_passphrase(kPassphrase));
    ca = (folder.path / "house.share" / "ca.crt").string();
    std::promise<int> port;
    auto found = port.get_future();
    thread_ = std::thread([this, &port] {
      ServeOptions options;
      options.port = 18200;
      options.clock = [this] { return house.now; };
      options.plan_seconds = 0.1;
      options.listening = [&port](int p) { port.set_value(p); };
      options.share = share.get();
      options.stop = stop_.get_token();
      EXPECT_TRUE(serve(house.house, options));
    });
    this->port = found.get();
    for (int i = 0; i < 200; ++i) {
      if (local().Get("/api/v1/household") && tls().Get("/pair") && plain().Get("/pair")) break;
      std::this_thread::sleep_for(milliseconds(20));
    }
  }
  ~Shared() {
    stop_.request_stop();
    thread_.join();
  }
  Shared(const Shared&) = delete;
  Shared& operator=(const Shared&) = delete;

  [[nodiscard]] httplib::Client local() const { return httplib::Client("localhost", port); }
  [[nodiscard]] httplib::Client plain() const { return httplib::Client("localhost", plain_port); }
  [[nodiscard]] TrustingClient tls(const std::string& host = "localhost") const { return tls(host, ca); }
  [[nodiscard]] TrustingClient tls(const std::string& host, const std::string& trusted) const {
    return TrustingClient(host, secure_port, trusted);
  }
  /// Pairs a device over TLS; the header that proves it.
  [[nodiscard]] httplib::Headers paired(const std::string& name = "phone") const {
    const auto answer =
        tls().Post("/api/v1/pairing", json{{"name", name}, {"passphrase", kPassphrase}}.dump(), "application/json");
    EXPECT_TRUE(answer);
    EXPECT_EQ(answer->status, 200) << answer->body;
    return cookie_of(*answer);
  }
  static httplib::Headers cookie_of(const httplib::Response& answer) {
    const std::string set = answer.get_header_value("Set-Cookie");
    return {{"Cookie", set.substr(0, set.find(';'))}};
  }
  [[nodiscard]] std::string code() const {
    const auto answer = local().Post("/api/v1/pairing/code", "{}", "application/json");
    EXPECT_TRUE(answer);
    return json::parse(answer->body).at("code");
  }
  void move_to(const share::Network& network) {
    const std::lock_guard guard(mutex_);
    network_ = network;
  }

  share::TemporaryFolder folder;
  House house;
  std::atomic<measure::Instant> now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
  int port = 0, secure_port, plain_port;
  std::unique_ptr<share::Share> share;
  std::string ca;

 private:
  std::mutex mutex_;
  share::Network network_{"kitchen", {"192.168.1.5", "fd00::2"}, false};
  std::stop_source stop_;
  std::thread thread_;
};

std::string code_of(const httplib::Result& answer) {
  return answer ? json::parse(answer->body, nullptr, false).value("code", "") : "no answer";
}

TEST(SharedHousehold, ProvesItselfToThoseWhoTrustItsAuthorityAndToNoOther) {
  Shared shared;
  for (const char* host : {"localhost", "kitchen.local", "127.0.0.1", "192.168.1.5"}) {
    auto client = shared.tls(host);
    const auto answer = client.Get("/pair");
    ASSERT_TRUE(answer) << host << ": " << httplib::to_string(answer.error());
    EXPECT_EQ(answer->status, 200) << host;
  }
  const auto other_name = shared.tls("cellar.local").Get("/pair");
  EXPECT_EQ(other_name.error(), httplib::Error::SSLServerVerification);
  const std::string other = (shared.folder.path / "other.crt").string();
  std::ofstream(other) << share::make_authority("kitchen", shared.now.load(), share::machine_entropy()).certificate;
  EXPECT_EQ(shared.tls("localhost", other).Get("/pair").error(), httplib::Error::SSLServerVerification);
  EXPECT_FALSE(httplib::Client("localhost", shared.secure_port).Get("/pair")) << "no TLS on the TLS port";
}

TEST(SharedHousehold, ShowsARenewedCertificateFromThenOn) {
  Shared shared;
  EXPECT_FALSE(shared.tls("pantry.local").Get("/pair"));
  shared.move_to({"pantry", {"10.0.0.9"}, false});
  ASSERT_TRUE(*shared.share->renew());
  EXPECT_TRUE(shared.tls("pantry.local").Get("/pair"));
  EXPECT_TRUE(shared.tls("10.0.0.9").Get("/pair"));
  EXPECT_FALSE(shared.tls("kitchen.local").Get("/pair"));
}

TEST(SharedHousehold, AnUnpairedDeviceGetsNothingOfTheHousehold) {
  Shared shared;
  const auto tls = [&](const std::string& path, const httplib::Headers& headers = {}) {
    return shared.tls().Get(path, headers);
  };
  const auto plain = [&](const std::string& path, const httplib::Headers& headers = {}) {
    return shared.plain().Get(path, headers);
  };
  const std::string made_up = std::string(64, 'a');
  const httplib::Headers guesses = {{"Cookie", "__Host-stillroom=" + made_up + "; stillroom=" + made_up}};
  for (const auto& get : {std::function(tls), std::function(plain)}) {
    for (const char* path :
         {"/api/v1/household", "/api/v1/day", "/api/v1/events", "/api/v1/devices", "/api/v1/nothing"}) {
      for (const httplib::Headers& headers : {httplib::Headers{}, guesses}) {
        const auto answer = get(path, headers);
        ASSERT_TRUE(answer) << path;
        EXPECT_EQ(answer->status, 401) << path;
        EXPECT_EQ(code_of(answer), "not_paired") << path;
        EXPECT_FALSE(json::parse(answer->body).at("instead").empty());
      }
    }
    for (const char* path : {"/", "/larder", "/batches/7f3a"}) {
      const auto answer = get(path, {});
      ASSERT_TRUE(answer) << path;
      EXPECT_EQ(answer->status, 303) << path;
      EXPECT_EQ(answer->get_header_value("Location"), "/pair") << path;
    }
    EXPECT_EQ(get("/pair", {})->status, 200);
    EXPECT_EQ(get("/manifest.webmanifest", {})->status, 200);
  }
  const auto wrote = shared.tls().Post("/api/v1/entries", "[]", "application/json");
  ASSERT_TRUE(wrote);
  EXPECT_EQ(wrote->status, 401);
  // A service worker keeps the page while the device is not paired yet: it must not keep a redirection.
  const auto kept = shared.tls().Get("/", {{"Sec-Fetch-Mode", "cors"}});
  EXPECT_EQ(kept->status, 200);
  EXPECT_EQ(shared.tls().Get("/", {{"Sec-Fetch-Mode", "navigate"}})->status, 303);
  EXPECT_EQ(shared.local().Get("/")->status, 200) << "the computer itself needs no pairing";
}

TEST(SharedHousehold, ThePassphraseLetsADeviceInOverTls) {
  Shared shared;
  const auto answer = shared.tls().Post(
      "/api/v1/pairing", json{{"name", "Ida's phone"}, {"passphrase", kPassphrase}}.dump(), "application/json");
  ASSERT_TRUE(answer);
  ASSERT_EQ(answer->status, 200) << answer->body;
  const std::string cookie = answer->get_header_value("Set-Cookie");
  EXPECT_TRUE(cookie.starts_with("__Host-stillroom=")) << cookie;
  for (const char* part : {"; Path=/", "; HttpOnly", "; SameSite=Strict", "; Secure", "; Max-Age="})
    EXPECT_NE(cookie.find(part), std::string::npos) << part;
  EXPECT_EQ(cookie.find("Domain"), std::string::npos);
  const httplib::Headers proof = Shared::cookie_of(*answer);
  for (const char* path : {"/", "/api/v1/household", "/api/v1/larder"})
    EXPECT_EQ(shared.tls().Get(path, proof)->status, 200) << path;
  const auto devices = shared.tls().Get("/api/v1/devices", proof);
  const json view = json::parse(devices->body);
  ASSERT_EQ(view.at("devices").size(), 1U);
  EXPECT_EQ(view.at("devices")[0].at("name"), "Ida's phone");
  EXPECT_EQ(view.at("this_device"), view.at("devices")[0].at("id"));
  EXPECT_TRUE(view.at("set_up").is_null()) << "only the computer sets up others";
  EXPECT_EQ(code_of(shared.tls().Post("/api/v1/pairing/code", proof, "{}", "application/json")), "not_from_here");
  // The secret of TLS, sent where others can read it, means nothing.
  const std::string token = proof.begin()->second.substr(std::string("__Host-stillroom=").size());
  EXPECT_EQ(shared.plain().Get("/api/v1/household", {{"Cookie", "stillroom=" + token}})->status, 401);
}

TEST(SharedHousehold, WithoutTlsItTakesACodeAndShowsNoDevices) {
  Shared shared;
  const auto pair = [&](const json& body) {
    return shared.plain().Post("/api/v1/pairing", body.dump(), "application/json");
  };
  EXPECT_EQ(code_of(pair({{"name", "phone"}, {"passphrase", kPassphrase}})), "not_over_plain");
  const auto answer = pair({{"name", "phone"}, {"code", shared.code()}});
  ASSERT_TRUE(answer);
  ASSERT_EQ(answer->status, 200) << answer->body;
  const std::string cookie = answer->get_header_value("Set-Cookie");
  EXPECT_TRUE(cookie.starts_with("stillroom="));
  EXPECT_NE(cookie.find("HttpOnly"), std::string::npos);
  const httplib::Headers proof = Shared::cookie_of(*answer);
  EXPECT_EQ(shared.plain().Get("/api/v1/day", proof)->status, 200);
  EXPECT_EQ(shared.plain().Get("/", proof)->status, 200);
  EXPECT_EQ(code_of(shared.plain().Get("/api/v1/devices", proof)), "not_from_here");
  const std::string token = proof.begin()->second.substr(std::string("stillroom=").size());
  EXPECT_EQ(shared.tls().Get("/api/v1/day", {{"Cookie", "__Host-stillroom=" + token}})->status, 401)
      << "a secret that others may have read does not open TLS";
}

TEST(SharedHousehold, AWithdrawnDeviceIsOutAtOnceAndItsStreamEnds) {
  Shared shared;
  const httplib::Headers ida = shared.paired("Ida's phone"), jon = shared.paired("Jon's phone");
  std::atomic<bool> connected = false, ended = false;
  std::thread listening([&] {
    auto client = shared.tls();
    (void)client.Get("/api/v1/events", ida, [&](const char*, std::size_t) {
      connected = true;
      return true;
    });
    ended = true;
  });
  while (!connected) std::this_thread::sleep_for(milliseconds(10));
  std::string id;
  const json known = json::parse(shared.local().Get("/api/v1/devices")->body);
  for (const json& one : known.at("devices")) {
    if (one.at("name") == "Ida's phone") id = one.at("id");
  }
  const auto begun = std::chrono::steady_clock::now();
  const auto gone = shared.tls().Post("/api/v1/devices/withdraw", jon, json{{"id", id}}.dump(), "application/json");
  ASSERT_TRUE(gone);
  EXPECT_EQ(gone->status, 200) << gone->body;
  listening.join();
  EXPECT_TRUE(ended);
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(5)) << "not at the next ping";
  EXPECT_EQ(shared.tls().Get("/api/v1/day", ida)->status, 401);
  EXPECT_EQ(shared.tls().Get("/api/v1/day", jon)->status, 200);
  EXPECT_EQ(shared.tls().Post("/api/v1/devices/withdraw", jon, json{{"id", id}}.dump(), "application/json")->status,
            404);
}

TEST(SharedHousehold, GuessingIsAnsweredWithAWait) {
  Shared shared;
  const auto guess = [&](const std::string& passphrase) {
    return shared.tls().Post("/api/v1/pairing", json{{"name", "x"}, {"passphrase", passphrase}}.dump(),
                             "application/json");
  };
  int refused = 0;
  httplib::Result last = guess("plum jar attic hem");
  for (; last && last->status == 403 && refused < 50; ++refused) last = guess("plum jar attic hem");
  ASSERT_TRUE(last);
  EXPECT_EQ(last->status, 429);
  EXPECT_LE(refused, share::Attempts::kEach.free + 1);
  EXPECT_GE(std::stoi(last->get_header_value("Retry-After")), 1);
  EXPECT_EQ(guess(kPassphrase)->status, 429) << "nor does the right one come in meanwhile";
  shared.now = shared.now.load() + std::chrono::seconds{10};
  EXPECT_EQ(guess(kPassphrase)->status, 200);
}

TEST(SharedHousehold, OtherSitesCannotWriteReadOrFrame) {
  Shared shared;
  const httplib::Headers proof = shared.paired();
  const auto post = [&](std::multimap<std::string, std::string> more, const char* type = "application/json") {
    httplib::Headers headers = proof;
    headers.insert(more.begin(), more.end());
    return shared.tls().Post("/api/v1/undo", headers, "{}", type)->status;
  };
  const std::string self = "https://localhost:" + std::to_string(shared.secure_port);
  const int own = post({{"Origin", self}, {"Sec-Fetch-Site", "same-origin"}});
  EXPECT_NE(own, 403);
  EXPECT_NE(own, 401);
  EXPECT_EQ(post({{"Origin", "https://elsewhere.example"}}), 403);
  EXPECT_EQ(post({{"Origin", "null"}}), 403);
  EXPECT_EQ(post({{"Origin", "http://localhost:" + std::to_string(shared.secure_port)}}), 403) << "without TLS";
  EXPECT_EQ(post({{"Sec-Fetch-Site", "cross-site"}}), 403);
  EXPECT_EQ(post({{"Sec-Fetch-Site", "same-site"}}), 403);
  EXPECT_EQ(post({{"Origin", self}}, "text/plain"), 415) << "what a form elsewhere can send";
  httplib::Headers reading = proof;
  reading.emplace("Sec-Fetch-Site", "cross-site");
  EXPECT_EQ(shared.tls().Get("/api/v1/day", reading)->status, 403);
  // Another site's name for this machine.
  httplib::Headers rebound = proof;
  rebound.emplace("Host", "rebound.example:" + std::to_string(shared.secure_port));
  for (const char* path : {"/", "/pair", "/ca.crt", "/api/v1/day", "/api/v1/events", "/api/v1/pairing"}) {
    EXPECT_EQ(shared.tls().Get(path, rebound)->status, 403) << path;
    EXPECT_EQ(shared.plain().Get(path, {{"Host", "rebound.example"}})->status, 403) << path;
  }
  EXPECT_EQ(shared.local().Get("/api/v1/day", {{"Host", "kitchen.local:" + std::to_string(shared.port)}})->status, 403);
  for (const char* path : {"/", "/pair", "/api/v1/day"}) {
    const auto answer = shared.tls().Get(path, proof);
    const std::string policy = answer->get_header_value("Content-Security-Policy");
    EXPECT_NE(policy.find("frame-ancestors 'none'"), std::string::npos) << path;
    EXPECT_NE(policy.find("default-src 'self'"), std::string::npos) << path;
    EXPECT_EQ(policy.find("unsafe"), std::string::npos) << path;
    EXPECT_EQ(answer->get_header_value("X-Content-Type-Options"), "nosniff");
    EXPECT_EQ(answer->get_header_value("Referrer-Policy"), "no-referrer");
    EXPECT_EQ(answer->get_header_value("Cross-Origin-Opener-Policy"), "same-origin");
    EXPECT_EQ(answer->get_header_value("Access-Control-Allow-Origin"), "");
    EXPECT_EQ(answer->get_header_value("Strict-Transport-Security"), "") << "would lock the plain page of the name out";
  }
}

TEST(SharedHousehold, TheAuthorityIsFetchedWithoutPairingAndItsKeyByNobody) {
  Shared shared;
  const auto authority = shared.plain().Get("/ca.crt");
  ASSERT_TRUE(authority);
  EXPECT_EQ(authority->body, shared.share->authority_certificate());
  EXPECT_EQ(authority->get_header_value("Content-Type"), "application/x-x509-ca-cert");
  EXPECT_EQ(authority->body.find("PRIVATE"), std::string::npos);
  for (const char* path : {"/ca.key", "/server.key", "/devices.json", "/../house.share/ca.key"})
    EXPECT_EQ(shared.local().Get(path)->status, 404) << path;
}

TEST(SharedHousehold, TheComputerShowsHowAPhoneIsSetUp) {
  Shared shared;
  const json view = json::parse(shared.local().Get("/api/v1/devices")->body);
  const json& set_up = view.at("set_up");
  const std::string numeric = "https://192.168.1.5:" + std::to_string(shared.secure_port) + "/pair";
  EXPECT_EQ(set_up.at("ways")[0].at("address"), numeric) << "in numbers first: it works everywhere";
  EXPECT_EQ(set_up.at("ways").back().at("address"),
            "https://kitchen.local:" + std::to_string(shared.secure_port) + "/pair");
  EXPECT_FALSE(set_up.at("ways").back().at("announced"));
  EXPECT_GT(set_up.at("ways")[0].at("qr").at("size"), 20);
  EXPECT_EQ(set_up.at("fingerprint"), share::fingerprint(shared.share->authority_certificate()));
  const auto names = [](const json& object) {
    std::set<std::string> out;
    for (const auto& [name, value] : object.items()) out.insert(name);
    return out;
  };
  EXPECT_EQ(names(set_up), (std::set<std::string>{"fingerprint", "until", "certificate", "ways", "live"}));
}

TEST(SharedHousehold, ATakenPortIsARefusal) {
  Shared shared;
  House house;
  share::TemporaryFolder folder;
  auto second = share::Share::open({.folder = folder.path / "s", .secure_port = shared.secure_port, .plain_port = 0});
  ASSERT_TRUE(second);
  ServeOptions options;
  options.port = 18230;
  options.listening = [](int) {};
  options.share = second->get();
  const auto served = serve(house.house, options);
  ASSERT_FALSE(served);
  EXPECT_EQ(served.error().code, "no_port");
}

TEST(SharedHousehold, TheFortyFirstStreamIsTurnedAwayAndRequestsGoOn) {
  Shared shared;
  const httplib::Headers proof = shared.paired();
  std::atomic<int> open = 0;
  std::atomic<bool> enough = false;
  std::vector<std::thread> listeners;
  for (int i = 0; i < Events::kMostListeners; ++i) {
    listeners.emplace_back([&] {
      auto client = shared.tls();
      bool counted = false;
      (void)client.Get("/api/v1/events", proof, [&](const char*, std::size_t) {
        if (!counted) ++open;
        counted = true;
        return !enough.load();
      });
    });
  }
  for (int i = 0; i < 1000 && open < Events::kMostListeners; ++i) std::this_thread::sleep_for(milliseconds(10));
  EXPECT_EQ(open, Events::kMostListeners);
  const auto late = shared.tls().Get("/api/v1/events", proof);
  ASSERT_TRUE(late);
  EXPECT_EQ(late->status, 503);
  EXPECT_EQ(shared.tls().Get("/api/v1/household", proof)->status, 200);
  enough = true;
  // A change wakes them all.
  const auto changed =
      shared.local().Post("/api/v1/start", R"({"key":"freezer","answer":"5 cu ft"})", "application/json");
  EXPECT_EQ(changed->status, 200);
  for (std::thread& listener : listeners) listener.join();
}

TEST(UnsharedHousehold, SaysSoAndKeepsTheHomeNetworkOut) {
  House house;
  const json devices = json::parse(house.get("/devices").body);
  EXPECT_FALSE(devices.at("shared"));
  EXPECT_EQ(json::parse(house.post("/pairing/code", "{}").body).at("code"), "not_shared");
  const Reply reply = house.service.answer(
      {.method = "GET", .path = "/day", .host = "localhost:8137", .door = Door::secure, .peer = "192.168.1.20"});
  EXPECT_EQ(reply.status, 401);
}

}  // namespace
}  // namespace stillroom::service
