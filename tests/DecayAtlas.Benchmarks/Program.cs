using System.Globalization;

// Whole-process benchmarks, each with its peer in the same run. What they printed last is in docs/benchmarks.md.
return args switch
{
    ["night", ..] => NightBenchmark.Run(Bags(args)),
    ["map", ..] => MapBenchmark.Run(args.Length > 1 && int.TryParse(args[1], out int trees) ? trees : 200),
    ["map-once", var work, var trees, var millions] =>
        MapBenchmark.Once(work, int.Parse(trees, CultureInfo.InvariantCulture), int.Parse(millions, CultureInfo.InvariantCulture)),
    ["index", ..] =>
        IndexBenchmark.Run(args.Length > 1 ? Bags(args) : 1_000_000, args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture)
            : 10_000),
    ["recall", ..] => RecallTable.Run(args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 10, args.ElementAtOrDefault(2)),
    ["mixed", ..] => MixedBenchmark.Run(args.Length > 1 ? Bags(args) : 10_000),
    ["make", var inbox, var bags] => Make(inbox, bags),
    ["grids", ..] => GridBenchmark.Run(Bags(args), args.Length > 2 ? args[2] : null),
    ["grids-sample", var grid, var points, var rule, var variable] => GridBenchmark.Sample(grid, points, rule, variable),
    ["pages", ..] => PagesBenchmark.Run(args.Length > 1 ? Bags(args) : 10_000),
    ["serve", ..] => ServeBenchmark.Run(Bags(args), args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : 300),
    ["duckdb-convert", var inbox, var target] => DuckDbPeer.Convert(inbox, target),
    _ => Usage(),
};

static int Bags(string[] args) =>
    args.Length > 1 && int.TryParse(args[1], out int bags) ? bags : 1_000_000;

static int Make(string inbox, string bags)
{
    Campaign.Write(inbox, int.Parse(bags, CultureInfo.InvariantCulture));
    return 0;
}

static int Usage()
{
    Console.WriteLine("""
        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- night [BAGS]

        night    intake to release of BAGS bags (default 1000000), beside DuckDB reading the same CSV files and writing Parquet
                 with no checks; then a night on which nothing changed, and one with a new contribution of 100 bags

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- map [TREES]

        map      maps of 1, 3 and 10 million cells by a forest of TREES trees (default 200) over six covariates, whole and only predicting,
                 beside the forests of scikit-learn and R ranger of as many trees, which only predict

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- index [BURIALS [DRAWN]]

        index    k and S with first-order uncertainty for BURIALS burials (default 1000000) on one core, and 10000 Monte Carlo draws for
                 DRAWN burials (default 10000) on all, beside NumPy (Debian package python3-numpy)

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- recall [SEEDS [FILE]]

        recall   which planted faults are found, by family and by size, over SEEDS invented scenarios (default 10); to FILE too

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- grids [POINTS [FOLDER]]

        grids    values at POINTS clustered points (default 1000000) of a world grid and of a monthly stack, which it makes, beside
                 R terra, rasterio and xarray; FOLDER keeps the grids for the next time

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- pages [SITES]

        pages    the pages of SITES sites (default 10000): made, and opened in Chromium

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- serve [BAGS [SECONDS]]

        serve    answers of the server over BAGS bags (default 1000000) under wrk, beside nginx handing out the same as files (Debian
                 packages wrk, nginx-light); then memory over SECONDS (default 300) of requests

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- mixed [SITES]

        mixed    the joint mixed model of ln k and S of SITES sites (default 10000), five burials each, 40 lots, beside R lme4 (Debian
                 package r-cran-lme4) on ln k alone without known errors

        dotnet run --project tests/DecayAtlas.Benchmarks -c Release -- make INBOX BAGS

        make     only writes the contributions, for trying things by hand
        """);
    return 2;
}
