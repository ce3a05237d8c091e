namespace DecayAtlas.Grids.Formats.NetCdf;

/// <summary>NetCDF classic and NetCDF-4, by the CF conventions.</summary>
internal sealed class NetCdfFormat : GridFormat
{
    public override string Article => "a NetCDF file";

    public override bool HasVariables => true;

    public override bool Recognises(ReadOnlySpan<byte> head) => CdfFile.RecognisesAny(head);

    public override Grid Open(string path, GridReadOptions options) => NetCdfGrid.Open(path, options);

    public override GridDescription Describe(string path) => CdfDescription.Of(path);
}
