using DecayAtlas.EndToEnd;

[assembly: AssemblyFixture(typeof(DemoRun))]
