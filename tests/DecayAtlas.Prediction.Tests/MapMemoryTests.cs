namespace DecayAtlas.Prediction.Tests;

/// <summary>Measures the whole process, so nothing else may run beside it.</summary>
[CollectionDefinition(nameof(MapMemoryTests), DisableParallelization = true)]
[Collection(nameof(MapMemoryTests))]
public class MapMemoryTests
{
    [Fact]
    public void Memory_of_a_map_does_not_grow_with_the_region()
    {
        BoundingBox extent = new(0, 0, 3, 2);
        using InventedIsland small = new(300, 200, extent);
        using InventedIsland large = new(1300, 1300, extent, sites: 1);
        using RateModel model =
            ModelTrainer.Train(small.Training,
                new() { Folds = 2, Trees = 20, BlockDegrees = 0.4, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 });
        long Peak(InventedIsland where)
        {
            long peak = 0;
            RateMap.Make(model, where.Entries, new MapOptions("T", []),
                new(where.Of("m.tif"), where.Of("m.nc"), where.Of("m.png")), (_, done, all) =>
            {
                if (done % 6 == 0 || done == all)
                    peak = Math.Max(peak, GC.GetTotalMemory(forceFullCollection: true));
            });
            return peak;
        }
        // What may be held of 1300 x 1300 cells: decoded blocks of two fine and two coarse grids (2 x 13.5 MB + 2 x 0.9 MB, below the
        // stated 64 MB each), the thinned picture (650 x 650 x 20 bytes = 8.5 MB) and one tile a band of each smaller picture in the
        // TIFF (6 x 0.26 MB x 3 = 4.7 MB): 42 MB, and what the runtime keeps beside. Holding even two covariates of the whole region
        // besides (27 MB) would break the bound.
        long grown = Peak(large) - Peak(small);
        Assert.True(grown < 55_000_000, $"{grown}");
    }
}
