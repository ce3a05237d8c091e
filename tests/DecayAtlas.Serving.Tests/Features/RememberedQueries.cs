namespace DecayAtlas.Serving.Tests.Features;

/// <summary>What the last queries found is kept, and only so much of it.</summary>
public sealed class RememberedQueries
{
    [Fact]
    public void However_many_long_queries_are_asked_what_is_kept_of_them_stays_small()
    {
        FeatureTable table = new([new FeatureId("a", "b")], [0], [0], [null], []);
        string longText = new('x', 6_000);
        long before = GC.GetTotalMemory(forceFullCollection: true);
        for (int i = 0; i < 20_000; i++)
            table.PageOf(new PageRequest(new FeatureQuery(null, null, [("plot", $"{i}{longText}")]), 10, null));
        long kept = GC.GetTotalMemory(forceFullCollection: true) - before;
        // 16 MiB are meant, and other tests run beside; the queries themselves are 240 MB
        Assert.InRange(kept, long.MinValue, 64 << 20);
        GC.KeepAlive(table);
    }
}
