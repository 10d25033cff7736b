#include "seed_files.h"
#include "support/zip_files.h"

#include <cstdint>

namespace leastwall::fuzz {
namespace {

using namespace leastwall::test;

std::string obj_text(const TriMesh& m, bool with_extras) {
  std::string s = with_extras ? "# obj seed\nmtllib none.mtl\no box\ng half\nvt 0 0\nvn 0 0 1\n" : "";
  for (const Vec3& v : m.vertices)
    s += fmt::format("v {} {} {}\n", v.x, v.y, v.z);
  for (std::size_t t = 0; t < m.triangles.size(); ++t) {
    if (with_extras && t == 6)
      s += "g other\nusemtl wood\ns 1\n";
    s += "f";
    for (const std::uint32_t k : m.triangles[t])
      s += with_extras ? fmt::format(" {}/1/1", k + 1) : fmt::format(" {}", k + 1);
    s += "\n";
  }
  return s;
}

std::string off_text(const TriMesh& m) {
  std::string s = fmt::format("OFF\n{} {} 0\n", m.vertices.size(), m.triangles.size());
  for (const Vec3& v : m.vertices)
    s += fmt::format("{} {} {}\n", v.x, v.y, v.z);
  for (const Tri& t : m.triangles)
    s += fmt::format("3 {} {} {}\n", t[0], t[1], t[2]);
  return s;
}

std::string mesh_bytes(const TriMesh& m) {
  std::string bytes;
  for (const Vec3& v : m.vertices)
    for (const double c : {v.x, v.y, v.z})
      append_raw(bytes, static_cast<float>(c));
  for (const Tri& t : m.triangles)
    for (const std::uint32_t k : t)
      append_raw(bytes, k);
  return bytes;
}

std::string in_base64(const std::string& bytes) { // RFC 4648
  constexpr char kDigits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t three = 0;
    for (std::size_t k = 0; k < 3; ++k)
      three = three << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
    for (std::size_t k = 0; k < 4; ++k)
      out += i + k > bytes.size() ? '=' : kDigits[three >> (18 - 6 * k) & 63];
  }
  return out;
}

/// `uri`: the member of the buffer that says where its bytes are, with a comma; or nothing.
std::string gltf_json(const TriMesh& m, const std::string& uri, const std::string& node) {
  const std::size_t positions = m.vertices.size() * 12, indices = m.triangles.size() * 12;
  return fmt::format(
      R"({{"asset":{{"version":"2.0"}},"scene":0,"scenes":[{{"nodes":[0]}}],)"
      R"("nodes":[{{"mesh":0{},"children":[1]}},{{"mesh":0,"translation":[1,2,3]}}],)"
      R"("meshes":[{{"primitives":[{{"attributes":{{"POSITION":0}},"indices":1,"mode":4}}]}}],)"
      R"("buffers":[{{{}"byteLength":{}}}],)"
      R"("bufferViews":[{{"buffer":0,"byteOffset":0,"byteLength":{}}},)"
      R"({{"buffer":0,"byteOffset":{},"byteLength":{}}}],)"
      R"("accessors":[{{"bufferView":0,"byteOffset":0,"componentType":5126,"count":{},)"
      R"("type":"VEC3","min":[0,0,0],"max":[10,20,1]}},)"
      R"({{"bufferView":1,"componentType":5125,"count":{},"type":"SCALAR"}}]}})",
      node, uri, positions + indices, positions, positions, indices, m.vertices.size(),
      m.triangles.size() * 3);
}

std::string glb_file(std::string json, std::string bin) {
  json.resize((json.size() + 3) / 4 * 4, ' ');
  bin.resize((bin.size() + 3) / 4 * 4, '\0');
  std::string out = "glTF";
  append_raw(out, std::uint32_t{2});
  append_raw(out, static_cast<std::uint32_t>(28 + json.size() + bin.size()));
  append_raw(out, static_cast<std::uint32_t>(json.size()));
  out += "JSON" + json;
  append_raw(out, static_cast<std::uint32_t>(bin.size()));
  return out + std::string("BIN\0", 4) + bin;
}

std::string collada_text(const TriMesh& m) {
  std::string positions, indices;
  for (const Vec3& v : m.vertices)
    positions += fmt::format("{} {} {} ", v.x, v.y, v.z);
  for (const Tri& t : m.triangles)
    indices += fmt::format("{} {} {} ", t[0], t[1], t[2]);
  return fmt::format(
      R"(<?xml version="1.0" encoding="utf-8"?>
<COLLADA xmlns="http://www.collada.org/2005/11/COLLADASchema" version="1.4.1">
<asset><unit name="millimeter" meter="0.001"/><up_axis>Z_UP</up_axis></asset>
<library_geometries><geometry id="g" name="g"><mesh>
<source id="p"><float_array id="a" count="{}">{}</float_array><technique_common>
<accessor source="#a" count="{}" stride="3"><param name="X" type="float"/><param name="Y" type="float"/>
<param name="Z" type="float"/></accessor></technique_common></source>
<vertices id="v"><input semantic="POSITION" source="#p"/></vertices>
<triangles count="{}"><input semantic="VERTEX" source="#v" offset="0"/><p>{}</p></triangles>
</mesh></geometry></library_geometries>
<library_visual_scenes><visual_scene id="s"><node id="n"><matrix>1 0 0 0 0 1 0 0 0 0 1 0 0 0 0 1</matrix>
<instance_geometry url="#g"/></node></visual_scene></library_visual_scenes>
<scene><instance_visual_scene url="#s"/></scene></COLLADA>
)",
      m.vertices.size() * 3, positions, m.vertices.size(), m.triangles.size(), indices);
}

} // namespace

std::vector<SeedFile> import_seeds() {
  const TriMesh m = box_mesh();
  const std::string bin = mesh_bytes(m);
  const std::string uri =
      "\"uri\":\"data:application/octet-stream;base64," + in_base64(bin) + "\",";
  const std::string object = threemf_object(m, 1);
  const std::string item = "<item objectid=\"1\"/>";
  const std::string parts = object + "<object id=\"2\" type=\"model\"><components><component "
                                     "objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 5 0 0\"/>"
                                     "<component objectid=\"1\"/></components></object>";
  return {{"triangles.obj", obj_text(m, false)},
          {"groups_and_looks.obj", obj_text(m, true)},
          {"polygon.obj", "v 0 0 0\nv 4 0 0\nv 4 4 0\nv 2 1 0\nv 0 4 0\nf -5 -4 -3 -2 -1\nl 1 2\n"},
          {"box.off", off_text(m)},
          {"plain.3mf", threemf_file("unit=\"millimeter\"", object, item)},
          {"components.3mf", threemf_file("unit=\"inch\"", parts, "<item objectid=\"2\"/>")},
          {"data_uri.gltf", gltf_json(m, uri, "")},
          {"mirrored.gltf", gltf_json(m, uri, R"(,"scale":[-1,1,1])")},
          {"box.glb", glb_file(gltf_json(m, "", ""), bin)},
          {"box.dae", collada_text(m)}};
}

} // namespace leastwall::fuzz
