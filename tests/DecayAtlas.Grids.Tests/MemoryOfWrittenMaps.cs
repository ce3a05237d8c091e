namespace DecayAtlas.Grids.Tests;

/// <summary>Measures the whole process, so nothing else may run beside it.</summary>
[CollectionDefinition(nameof(MemoryOfWrittenMaps), DisableParallelization = true)]
[Collection(nameof(MemoryOfWrittenMaps))]
public class MemoryOfWrittenMaps
{
    /// <summary>More cells than a small heap could hold: what grows is 24 bytes a tile, and not the tiles.</summary>
    [Fact]
    public void Memory_does_not_grow_with_the_map()
    {
        using TestFolder folder = new();
        long small = Allocated(16), large = Allocated(64);
        Assert.InRange(large, 0, small + (8 << 20));

        long Allocated(int across)
        {
            float[] tile = new float[256 * 256];
            long peak = 0;
            using GeoTiffWriter writer = new(folder.File($"{across}.tif"), Projection.Wgs84,
                new GridLattice(across * 256, across * 256, 0, 60, 0.001, 0.001), [new("x", "1")], null, overviews: true);
            for (int i = 0; i < across * across; i++)
            {
                Array.Fill(tile, i);
                writer.WriteTiles(i % across, i / across, [tile]);
                if (i % 256 == 0)
                    peak = Math.Max(peak, GC.GetTotalMemory(forceFullCollection: true));
            }

            return peak;
        }
    }
}
