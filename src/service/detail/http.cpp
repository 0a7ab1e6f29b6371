#include "service/detail/http.h"

#include <httplib.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <sys/socket.h>
#include <zlib.h>

#include <charconv>
#include <memory>

#include "service/pages.h"
#include "share/network.h"

// The only file that speaks httplib's language. Its defaults are not ours: see the remarks.
namespace stillroom::service::detail {
namespace {

constexpr std::string_view kApi = "/api/v1";
constexpr std::string_view kPairPage = "/pair";
constexpr std::size_t kThreads = 64;                      // one for each connection; 40 of them at most are streams
constexpr std::size_t kLargestBody = 16UL * 1024 * 1024;  // a season's outbox is far below
constexpr std::size_t kWorthPacking = 4096;
constexpr std::chrono::seconds kPing{10};
constexpr int kSilenceMs = 30'000;

Request plain(const httplib::Request& from, Door door) {
  Request r;
  r.door = door;
  r.peer = share::plain_address(from.remote_addr);
  r.cookie = from.get_header_value("Cookie");
  r.method = from.method == "HEAD" ? "GET" : from.method;
  r.path = from.path.starts_with(kApi) ? from.path.substr(kApi.size()) : from.path;
  for (const auto& [name, value] : from.params) r.query.emplace(name, value);
  r.body = from.body;
  r.host = from.get_header_value("Host");
  r.origin = from.get_header_value("Origin");
  r.fetch_site = from.get_header_value("Sec-Fetch-Site");
  r.content_type = from.get_header_value("Content-Type");
  return r;
}

/// Level 6: the library's own brotli at level 11 takes a quarter of a second for a page of JSON.
std::string gzipped(const std::string& text) {
  z_stream stream{};
  if (deflateInit2(&stream, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) != Z_OK) return {};
  std::string out(deflateBound(&stream, text.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));  // zlib reads it only
  stream.avail_in = static_cast<uInt>(text.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const bool whole = deflate(&stream, Z_FINISH) == Z_STREAM_END;
  out.resize(stream.total_out);
  deflateEnd(&stream);
  return whole ? out : std::string();
}

/// Sends bytes as they are: a body given by set_content would be compressed again on every request.
void send(httplib::Response& response, const std::shared_ptr<const std::string>& body, const std::string& type) {
  response.set_content_provider(body->size(), type,
                                [body](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
                                  return sink.write(body->data() + offset, length);
                                });
}

void send(const Reply& reply, const httplib::Request& request, httplib::Response& response) {
  response.status = reply.status;
  response.set_header("Cache-Control", "no-store");
  for (const auto& [name, value] : reply.headers) response.set_header(name, value);
  if (reply.body.size() < kWorthPacking) {
    response.set_content(reply.body, "application/json");
    return;
  }
  response.set_header("Vary", "Accept-Encoding");
  std::string body;
  if (request.get_header_value("Accept-Encoding").find("gzip") != std::string::npos) body = gzipped(reply.body);
  if (!body.empty())
    response.set_header("Content-Encoding", "gzip");
  else
    body = reply.body;
  send(response, std::make_shared<const std::string>(std::move(body)), "application/json");
}

/// The household's certificate authority, for phones to trust. No secret: open to all.
void send_authority(const share::Share& share, httplib::Response& response) {
  response.status = 200;
  response.set_header("Cache-Control", "no-store");
  response.set_header("Content-Disposition", "attachment; filename=\"stillroom-ca.crt\"");
  response.set_content(share.authority_certificate(), "application/x-x509-ca-cert");
}

void send_page(const Service& service, Door door, const httplib::Request& request, httplib::Response& response) {
  Request asked = plain(request, door);
  asked.origin.clear();  // a link from elsewhere may open a page; only the name it came by matters
  asked.fetch_site.clear();
  if (const auto refused = service.kept_out(asked, Access::everyone)) return send(refusal(*refused), request, response);
  if (service.share != nullptr && request.path == "/ca.crt") return send_authority(*service.share, response);
  // The files of the pages hold nothing of the household and are open; but whoever is not paired is led to where that
  // is done. A service worker that fetches the pages to keep them must get them as they are.
  const std::string mode = request.get_header_value("Sec-Fetch-Mode");
  const bool page = request.path.find('.') == std::string::npos && request.path != kPairPage;
  if (page && (mode.empty() || mode == "navigate") && service.kept_out(asked, Access::paired)) {
    response.set_header("Cache-Control", "no-store");
    response.set_redirect(std::string(kPairPage), 303);
    return;
  }
  const PageFile* file = page_at(request.path);
  if (file == nullptr) {
    return send(refusal({"no_such_path", "There is nothing at " + request.path + ".", {}}), request, response);
  }
  response.set_header("ETag", std::string(file->etag));
  response.set_header("Cache-Control", file->immutable ? "public, max-age=31536000, immutable" : "no-cache");
  response.set_header("Vary", "Accept-Encoding");
  if (request.get_header_value("If-None-Match").find(file->etag) != std::string::npos) {
    response.status = 304;
    return;
  }
  const std::string_view encoding = encoding_for(*file, request.get_header_value("Accept-Encoding"));
  if (!encoding.empty()) response.set_header("Content-Encoding", std::string(encoding));
  const std::string_view body = encoding == "br" ? file->brotli : encoding == "gzip" ? file->gzip : file->raw;
  response.status = 200;
  response.set_content_provider(body.size(), std::string(file->type),
                                [body](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
                                  return sink.write(body.data() + offset, length);
                                });
}

struct Stream {
  Events::Seat seat;
  std::uint64_t last = 0;
  bool begun = false;
};

void stream_events(Service& service, Door door, const httplib::Request& request, httplib::Response& response) {
  const Request asked = plain(request, door);
  if (const auto refused = service.kept_out(asked, Access::paired)) return send(refusal(*refused), request, response);
  auto seat = service.events.sit();
  if (!seat) {
    response.set_header("Retry-After", "10");
    return send(refusal({"busy", "Too many pages are listening; this one will ask again by itself.", {}}), request,
                response);
  }
  auto stream = std::make_shared<Stream>(Stream{std::move(*seat)});
  stream->last = service.events.newest();
  const std::string heard = request.get_header_value("Last-Event-ID");
  std::uint64_t id = 0;
  if (std::from_chars(heard.data(), heard.data() + heard.size(), id).ec == std::errc()) stream->last = id;
  response.set_header("Cache-Control", "no-store");
  response.set_chunked_content_provider(
      "text/event-stream", [stream, asked, &service](std::size_t, httplib::DataSink& sink) {
        const auto write = [&](const std::string& text) { return sink.write(text.data(), text.size()); };
        if (!stream->begun) {
          stream->begun = true;
          return write("retry: 2000\n\n");
        }
        const auto events = service.events.after(stream->last, kPing);
        // A device may have been withdrawn meanwhile, here or by the command line.
        if (service.events.stopped() || service.kept_out(asked, Access::paired)) {
          sink.done();
          return true;
        }
        if (events.empty()) return write(": ping\n\n");
        for (const Events::Event& event : events) {
          if (!write(as_stream(event))) return false;
          stream->last = event.id;
        }
        return true;
      });
}

/// SO_REUSEADDR alone: the library's own SO_REUSEPORT lets two servers share one port unawares. TCP_USER_TIMEOUT, taken
/// over by accepted sockets, frees the thread of a phone that has fallen asleep.
void set_socket(int socket) {
  const int yes = 1;
  setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  const int no = 0;  // IPv4 and IPv6 by one socket; has no meaning, and does no harm, on one of IPv4 alone
  setsockopt(socket, IPPROTO_IPV6, IPV6_V6ONLY, &no, sizeof no);
  setsockopt(socket, IPPROTO_TCP, TCP_USER_TIMEOUT, &kSilenceMs, sizeof kSilenceMs);
}

}  // namespace

void connect(httplib::Server& server, Service& service, Door door) {
  server.new_task_queue = [] { return new httplib::ThreadPool(kThreads); };
  server.set_socket_options(set_socket);
  server.set_tcp_nodelay(true);
  server.set_keep_alive_max_count(1000);
  server.set_payload_max_length(kLargestBody);
  httplib::Headers headers = {
      {"X-Content-Type-Options", "nosniff"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Content-Security-Policy", "default-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"}};
  // Browsers heed it only where they trust the origin, and complain elsewhere.
  if (door != Door::plain) headers.emplace("Cross-Origin-Opener-Policy", "same-origin");
  server.set_default_headers(std::move(headers));
  const auto api = [&service, door](const httplib::Request& request, httplib::Response& response) {
    send(service.answer(plain(request, door)), request, response);
  };
  server.Get("/api/v1/events", [&service, door](const httplib::Request& request, httplib::Response& response) {
    stream_events(service, door, request, response);
  });
  server.Get("/api/.*", api);
  server.Post("/api/.*", api);
  server.Get("/.*", [&service, door](const httplib::Request& request, httplib::Response& response) {
    send_page(service, door, request, response);
  });
  server.set_exception_handler(
      [](const httplib::Request& request, httplib::Response& response, const std::exception_ptr&) {
        // Only what should never happen is thrown; what it was is of no use to a page.
        send({500, R"({"ok":false,"code":"broken","message":"Something broke in the program.","instead":[]})", {}},
             request, response);
      });
}

}  // namespace stillroom::service::detail
