// Floor: Assimp reads both files, one after the other, without post-processing; nothing else.
#include <assimp/Importer.hpp>
#include <assimp/scene.h>
#include <cstdio>

int main(int argc, char** argv) {
  unsigned long long facets = 0;
  for (int i = 1; i < argc; ++i) {
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFile(argv[i], 0);
    if (!scene) {
      std::fprintf(stderr, "%s: %s\n", argv[i], importer.GetErrorString());
      return 3;
    }
    for (unsigned m = 0; m < scene->mNumMeshes; ++m)
      facets += scene->mMeshes[m]->mNumFaces;
  }
  std::printf("{\"facets\": %llu}\n", facets);
  return facets > 0 ? 0 : 3;
}
