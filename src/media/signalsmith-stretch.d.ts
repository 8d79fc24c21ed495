// The package has no types of its own; only its side effect inside a worklet is used.
declare module 'signalsmith-stretch';
