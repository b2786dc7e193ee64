// Does nothing: what starting any program linked like ours takes.
int main() { return 0; }
