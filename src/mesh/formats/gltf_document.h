// The JSON of a glTF file, looked at before anything in it is believed. Source: Khronos Group,
// "glTF 2.0 Specification", 3.6 (buffers, views, accessors), 3.5 (nodes), 3.12 (extensions), 4.4
// (binary container).
#pragma once

#include "base/file/mapped_file.h"

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

namespace leastwall {

struct GltfDocument {
  nlohmann::json root;                    ///< an object
  std::optional<std::string_view> binary; ///< second chunk of a binary file; lives as the file does
};

/// Throws InputError unless the JSON is well formed, of version 2, every accessor lies within its
/// view, every view within its buffer, embedded buffers are as long as they say, matrices and
/// vectors of nodes have their numbers, and the file asks for no extension but such as change only
/// looks.
GltfDocument open_gltf(const MappedFile& file);

/// Throws InputError "FILE: what; the file is damaged or malformed...".
[[noreturn]] void refuse_gltf(const MappedFile& file, std::string_view what);

/// The list `name` of an object, empty when it has none. Throws InputError when it is no list of
/// objects.
const nlohmann::json& gltf_list(const MappedFile& file, const nlohmann::json& object,
                                const char* name);

/// The whole number `name` of an object. Throws InputError when it is there and no whole number.
std::optional<std::uint64_t> gltf_whole(const MappedFile& file, const nlohmann::json& object,
                                        const char* name);

} // namespace leastwall
