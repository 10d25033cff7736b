// Bytes of small zip archives and 3MF files for tests. Layout: PKWARE, APPNOTE.TXT 6.3.
#pragma once

#include "support/mesh_files.h"

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>
#include <zlib.h>

namespace leastwall::test {

inline std::string deflated(const std::string& bytes) {
  z_stream stream{};
  if (deflateInit2(&stream, 9, Z_DEFLATED, -MAX_WBITS, 8, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::runtime_error("deflate");
  std::string out(deflateBound(&stream, bytes.size()), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  deflate(&stream, Z_FINISH);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  return out;
}

struct ZipOptions {
  std::size_t spoil = 0; ///< so many bytes in the middle of the last entry's data are changed
};

inline std::string zip_file(const std::vector<std::pair<std::string, std::string>>& entries,
                            const ZipOptions& o = {}) {
  std::string bytes, directory;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const auto& [name, content] = entries[i];
    std::string data = deflated(content);
    std::string facts;
    append_raw(facts, std::uint16_t{20});
    append_raw(facts, std::uint16_t{0});
    append_raw(facts, std::uint16_t{8});
    append_raw(facts, std::uint32_t{0x00210000});
    append_raw(facts,
               static_cast<std::uint32_t>(crc32(0, reinterpret_cast<const Bytef*>(content.data()),
                                                static_cast<uInt>(content.size()))));
    append_raw(facts, static_cast<std::uint32_t>(data.size()));
    append_raw(facts, static_cast<std::uint32_t>(content.size()));
    append_raw(facts, static_cast<std::uint16_t>(name.size()));
    append_raw(facts, std::uint16_t{0});
    if (i + 1 == entries.size())
      for (std::size_t k = 0; k < o.spoil; ++k)
        data[data.size() / 2 + k] = static_cast<char>(data[data.size() / 2 + k] ^ 0x5a);
    const auto at = static_cast<std::uint32_t>(bytes.size());
    append_raw(bytes, std::uint32_t{0x04034b50});
    bytes += facts + name + data;
    append_raw(directory, std::uint32_t{0x02014b50});
    append_raw(directory, std::uint16_t{20});
    directory += facts + std::string(10, '\0'); // comment, disk and attributes
    append_raw(directory, at);
    directory += name;
  }
  const auto start = static_cast<std::uint32_t>(bytes.size());
  bytes += directory;
  append_raw(bytes, std::uint32_t{0x06054b50});
  append_raw(bytes, std::uint32_t{0});
  append_raw(bytes, static_cast<std::uint16_t>(entries.size()));
  append_raw(bytes, static_cast<std::uint16_t>(entries.size()));
  append_raw(bytes, static_cast<std::uint32_t>(directory.size()));
  append_raw(bytes, start);
  append_raw(bytes, std::uint16_t{0});
  return bytes;
}

/// `<object>` with the mesh, as 3MF writes it.
inline std::string threemf_object(const TriMesh& m, int id) {
  std::string s = fmt::format("<object id=\"{}\" type=\"model\"><mesh><vertices>", id);
  for (const Vec3& v : m.vertices)
    s += fmt::format("<vertex x=\"{}\" y=\"{}\" z=\"{}\"/>", v.x, v.y, v.z);
  s += "</vertices><triangles>";
  for (const Tri& t : m.triangles)
    s += fmt::format("<triangle v1=\"{}\" v2=\"{}\" v3=\"{}\"/>", t[0], t[1], t[2]);
  return s + "</triangles></mesh></object>";
}

/// A 3MF file: attributes of the model, objects, build items.
inline std::string threemf_file(const std::string& attributes, const std::string& objects,
                                const std::string& items, const ZipOptions& o = {}) {
  const std::string model =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- <model unit=\"foot\"> -->\n<model " +
      attributes +
      " xml:lang=\"en-US\" xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">"
      "<resources>" +
      objects + "</resources><build>" + items + "</build></model>\n";
  const std::string types =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?><Types "
      "xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default "
      "Extension=\"rels\" "
      "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Default "
      "Extension=\"model\" "
      "ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/></Types>";
  const std::string relations =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?><Relationships "
      "xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship "
      "Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
      "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>";
  return zip_file(
      {{"[Content_Types].xml", types}, {"_rels/.rels", relations}, {"3D/3dmodel.model", model}}, o);
}

} // namespace leastwall::test
