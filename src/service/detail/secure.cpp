#include "service/detail/secure.h"

#include <httplib.h>
#include <openssl/pem.h>
#include <openssl/ssl.h>

namespace stillroom::service::detail {
namespace {

/// Called by OpenSSL at each handshake; `share` is what the server was made with.
int show_leaf(SSL* connection, void* share) {
  const auto leaf = static_cast<const share::Share*>(share)->leaf();
  const auto read = [](const std::string& pem) { return BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())); };
  BIO* certificate_text = read(leaf->certificate);
  BIO* key_text = read(leaf->key);
  X509* certificate = PEM_read_bio_X509(certificate_text, nullptr, nullptr, nullptr);
  EVP_PKEY* key = PEM_read_bio_PrivateKey(key_text, nullptr, nullptr, nullptr);
  const bool shown = certificate != nullptr && key != nullptr && SSL_use_certificate(connection, certificate) == 1 &&
                     SSL_use_PrivateKey(connection, key) == 1;
  X509_free(certificate);
  EVP_PKEY_free(key);
  BIO_free_all(certificate_text);
  BIO_free_all(key_text);
  return shown ? 1 : 0;
}

}  // namespace

std::unique_ptr<httplib::Server> secure_server(const share::Share& share) {
  return std::make_unique<httplib::SSLServer>([&share](SSL_CTX& context) {
    SSL_CTX_set_min_proto_version(&context, TLS1_2_VERSION);
    SSL_CTX_set_options(&context, SSL_OP_NO_RENEGOTIATION | SSL_OP_NO_COMPRESSION);
    SSL_CTX_set_cert_cb(&context, show_leaf, const_cast<share::Share*>(&share));  // read only
    return true;
  });
}

}  // namespace stillroom::service::detail
