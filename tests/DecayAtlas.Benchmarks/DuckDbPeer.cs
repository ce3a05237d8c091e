using DuckDB.NET.Data;

namespace DecayAtlas.Benchmarks;

/// <summary>The peer: DuckDB reads the same CSV files and writes Parquet, with no checks.</summary>
internal static class DuckDbPeer
{
    public static int Convert(string inbox, string target)
    {
        Directory.CreateDirectory(target);
        using DuckDBConnection connection = new("DataSource=:memory:");
        connection.Open();
        foreach (string table in new[] { "bags", "sites", "lots" })
        {
            using DuckDBCommand command = connection.CreateCommand();
            command.CommandText = $"COPY (SELECT * FROM read_csv('{inbox}/*/{table}.csv', filename = true)) TO '{target}/{table}.parquet' (FORMAT parquet, COMPRESSION zstd)";
            command.ExecuteNonQuery();
        }

        return 0;
    }
}
